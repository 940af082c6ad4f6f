package day

// Aged is embedded by events that had another form in earlier versions.
type Aged struct {
	Old int `json:"-"` // its version in the log, where that is an earlier one
}

func (a Aged) version() int      { return a.Old }
func (a *Aged) mark(version int) { a.Old = version }
