package measure

import (
	"fmt"
	"reflect"
)

// roundedApart is by how much two measurements of one trace may differ: processors
// round in different places, so a last digit can fall on the other side.
const roundedApart = 1

// Differ names the first figure in which a stored measurement and one made again
// differ by more than rounding, in an English sentence; "" where they agree. The
// methods are not compared.
func Differ(stored, again Figures) string {
	a, b := reflect.ValueOf(stored), reflect.ValueOf(again)
	for i := range a.NumField() {
		field := a.Type().Field(i)
		if field.Type.Kind() != reflect.Int64 {
			continue
		}
		if x, y := a.Field(i).Int(), b.Field(i).Int(); !sameRounded(x, y) {
			return fmt.Sprintf("%s is %d in the log and %d when measured again", field.Tag.Get("json"), x, y)
		}
	}
	if stored.NoInterval != again.NoInterval {
		return fmt.Sprintf("no_interval is %t in the log and %t when measured again", stored.NoInterval, again.NoInterval)
	}
	if len(stored.Flags) != len(again.Flags) {
		return fmt.Sprintf("the log has %d flags and measuring again gives %d", len(stored.Flags), len(again.Flags))
	}
	for i, f := range stored.Flags {
		if g := again.Flags[i]; !sameFlag(f, g) {
			return fmt.Sprintf("flag %d is %s %d in the log and %s %d when measured again", i+1, f.Code, f.Args, g.Code, g.Args)
		}
	}
	return ""
}

func sameRounded(x, y int64) bool { return x-y <= roundedApart && y-x <= roundedApart }

func sameFlag(f, g Flag) bool {
	if f.Code != g.Code || len(f.Args) != len(g.Args) {
		return false
	}
	for i := range f.Args {
		if !sameRounded(f.Args[i], g.Args[i]) {
			return false
		}
	}
	return true
}
