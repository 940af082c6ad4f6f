package runname

import "fmt"

// Found is what stands under a name.
type Found int

// What may stand under a name.
const (
	Free  Found = iota // nothing
	Same               // the run itself, recorded before
	Other              // another run
)

// For is the name under which a run is recorded that was sent under a name, and what
// stands there: Free, or Same where it was recorded before. It is the name that was
// sent, or else the first that is not another run's of that name with the boot id
// behind it and, from the second on, a count: "r", "r.boot", "r.boot.2", "r.boot.3".
// The look-up must give Other for finitely many names only; it is asked once for each.
func For[ID ~string](sent ID, boot string, at func(ID) Found) (ID, Found) {
	name := sent
	for n := 1; ; n++ {
		if found := at(name); found != Other {
			return name, found
		}
		name = sent + ID("."+boot)
		if n > 1 {
			name += ID(fmt.Sprintf(".%d", n))
		}
	}
}
