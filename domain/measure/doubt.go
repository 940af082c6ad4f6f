package measure

// Tell adds what the stamps alone cannot tell of a run: a flag that whoever brought
// them raises. Where it leaves open how far the roller went, Forgo follows.
func (m *Measurement) Tell(f Flag) {
	m.Flags = append(m.Flags, f)
}

// Forgo takes the intervals back, for a run of which nobody can say how wrong its
// figures are, and says so once.
func (m *Measurement) Forgo() {
	m.Distance.forgo()
	m.Time.forgo()
	for _, f := range m.Flags {
		if f.Code == NoInterval || f.Code == NoSignal {
			return
		}
	}
	m.Flags = append(m.Flags, Flag{Code: NoInterval})
}
