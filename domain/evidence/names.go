package evidence

import "strings"

// NamesOf are the names under which a recorded run may have been sent: its own,
// or the one before the boot id that tells it from an earlier run of that name.
// What may follow the boot id is the bench and a count.
func NamesOf(recorded, boot string) []string {
	names := []string{recorded}
	if at := strings.LastIndex(recorded, "."+boot); boot != "" && at > 0 {
		if rest := recorded[at+1+len(boot):]; rest == "" || rest[0] == '.' {
			names = append(names, recorded[:at])
		}
	}
	return names
}
