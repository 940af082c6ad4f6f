package runname

import "strings"

// Before are the names under which a run may have been sent whose event is of version 1,
// which kept only the name under which it was recorded: that name, or what stands in it
// before the boot id that told the run from an earlier one of its name. Behind the boot
// id there may be the bench and a count. Which of them it was, the trace says.
func Before[ID ~string](recorded ID, boot string) []ID {
	names := []ID{recorded}
	if at := strings.LastIndex(string(recorded), "."+boot); boot != "" && at > 0 {
		if rest := recorded[at+1+len(boot):]; rest == "" || rest[0] == '.' {
			names = append(names, recorded[:at])
		}
	}
	return names
}
