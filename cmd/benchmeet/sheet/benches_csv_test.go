package sheet

import (
	"math"
	"testing"
)

// FuzzReadBenches: whatever is read as a table can be compared.
func FuzzReadBenches(f *testing.F) {
	f.Add([]byte("bench,car,value,round\nb1,A,1.5,2\n"))
	f.Add([]byte("value,bench,car\n\"1\",b1,\"a\nb\"\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		table, err := ReadBenches(text)
		if err != nil {
			return
		}
		for i, r := range table.runs {
			if !(r.Value > 0) || math.IsInf(r.Value, 0) || r.Bench == "" || r.Car == "" || table.lines[i] < 2 {
				t.Errorf("accepted %+v in line %d", r, table.lines[i])
			}
		}
		if _, err := CompareBenches(table, false); err != nil && len(table.runs) > 0 {
			t.Errorf("cannot compare what was read: %v", err)
		}
	})
}
