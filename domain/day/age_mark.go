package day

// AgeMark says how an age does not fit an entry of a division any more: a date of birth may
// be put right after the entry was judged by it.
type AgeMark string

// The marks.
const (
	AgeTooOld     AgeMark = "too-old"     // older than the division takes
	AgeYounger    AgeMark = "younger"     // younger than the band, and not noted to race up
	AgeNotYounger AgeMark = "not-younger" // noted to race up, and of the band
)

// AgeMark judges an age in whole years again; empty where it fits.
func (d Division) AgeMark(age int, racesUp bool) AgeMark {
	switch {
	case d.AgeTo != 0 && age > d.AgeTo:
		return AgeTooOld
	case age < d.AgeFrom && !racesUp:
		return AgeYounger
	case age >= d.AgeFrom && racesUp:
		return AgeNotYounger
	}
	return ""
}
