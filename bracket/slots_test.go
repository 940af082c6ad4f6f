package bracket

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// testdata/knockout_slots.csv: standard seed placement, from memory of federation practice; the file says so.
func TestSlotOrdersAreTheStandardPlacement(t *testing.T) {
	nested, mirrored := map[int][]int{}, map[int][]int{}
	for _, row := range readNumbers(t, "knockout_slots.csv") {
		nested[row[0]] = append(nested[row[0]], row[2])
		mirrored[row[0]] = append(mirrored[row[0]], row[3])
	}
	if len(nested) == 0 {
		t.Fatal("no placement was read")
	}
	for size, want := range nested {
		if diff := cmp.Diff(want, SlotOrder(size)); diff != "" {
			t.Errorf("nested order of %d (-want +got):\n%s", size, diff)
		}
		if diff := cmp.Diff(mirrored[size], MirroredSlotOrder(size)); diff != "" {
			t.Errorf("mirrored order of %d (-want +got):\n%s", size, diff)
		}
	}
}

// tree returns the seeds of a line-up as a tree whose siblings are in order, so that line-ups that only turn
// siblings round are equal.
func tree(seeds []int) []int {
	if len(seeds) == 1 {
		return seeds
	}
	a, b := tree(seeds[:len(seeds)/2]), tree(seeds[len(seeds)/2:])
	if slices.Compare(a, b) > 0 {
		a, b = b, a
	}
	return slices.Concat(a, b)
}

// testdata/knockout_region16.csv: the order printed for a region of 16, from memory.
func TestSlotOrdersAreOneTree(t *testing.T) {
	var printed []int
	for _, row := range readNumbers(t, "knockout_region16.csv") {
		printed = append(printed, row[1])
	}
	want := tree(SlotOrder(16))
	if diff := cmp.Diff(want, tree(printed)); diff != "" {
		t.Errorf("printed region (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(want, tree(MirroredSlotOrder(16))); diff != "" {
		t.Errorf("mirrored (-want +got):\n%s", diff)
	}
}

func TestFavouritesMeetAsLateAsTheyCan(t *testing.T) {
	for size := 2; size <= 256; size *= 2 {
		for name, seeds := range map[string][]int{"nested": SlotOrder(size), "mirrored": MirroredSlotOrder(size)} {
			for len(seeds) > 1 {
				var winners []int
				for i := 0; i < len(seeds); i += 2 {
					if sum := seeds[i] + seeds[i+1]; sum != len(seeds)+1 {
						t.Fatalf("%s %d: seeds %d and %d meet among %d", name, size, seeds[i], seeds[i+1], len(seeds))
					}
					winners = append(winners, min(seeds[i], seeds[i+1]))
				}
				seeds = winners
			}
		}
	}
}

func TestSlotOrderOfOtherSizesIsNil(t *testing.T) {
	for _, size := range []int{-4, 0, 3, 6, 12, 100} {
		if SlotOrder(size) != nil || MirroredSlotOrder(size) != nil {
			t.Errorf("size %d gave an order", size)
		}
	}
}

// testdata/seed_lines.json names the source of each: the ITF rules, and the ITTF rules in a translation with the
// line of seeds 3-4 from memory.
func TestSeedLinesOfTheFederations(t *testing.T) {
	type federation struct {
		Lines map[string]map[string][]int `json:"lines"`
	}
	var file struct {
		Tennis      federation `json:"tennis_ITF"`
		TableTennis federation `json:"table_tennis_ITTF"`
	}
	readJSON(t, "seed_lines.json", &file)
	tests := []struct {
		name  string
		from  map[string]map[string][]int
		lines Lines
		size  int
		seeds int
	}{
		{"ITF 2015, 16 lines", file.Tennis.Lines, QuarterLines, 16, 4},
		{"ITF 2015, 32 lines", file.Tennis.Lines, QuarterLines, 32, 8},
		{"ITTF 3.6.2, 16 lines", file.TableTennis.Lines, SectionLines, 16, 8},
		{"ITTF 3.6.2, 32 lines", file.TableTennis.Lines, SectionLines, 32, 16},
	}
	names := []string{"1", "2", "3-4", "5-8", "9-16"}
	sizes := map[int]string{16: "16", 32: "32"}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			want := tt.from[sizes[tt.size]]
			got := map[string][]int{}
			for i, group := range SeedLines(tt.size, tt.seeds, tt.lines) {
				got[names[i]] = group
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("lines (-want +got):\n%s", diff)
			}
		})
	}
}

// The lines by sections are those of the mirrored order, for every size.
func TestSectionLinesAreTheMirroredOrder(t *testing.T) {
	for size := 4; size <= 256; size *= 2 {
		order := MirroredSlotOrder(size)
		for g, lines := range SeedLines(size, size, SectionLines) {
			for _, line := range lines {
				if seedGroup(order[line-1]) != g {
					t.Errorf("size %d: line %d is in group %d but holds seed %d", size, line, g, order[line-1])
				}
			}
		}
	}
}

func TestSeedLinesWithoutARule(t *testing.T) {
	tests := []struct {
		name        string
		size, seeds int
		lines       Lines
	}{
		{"no power of two", 12, 4, SectionLines},
		{"more seeds than lines", 8, 9, SectionLines},
		{"16 seeds by quarters", 64, 16, QuarterLines},
		{"unknown way", 16, 4, "spiral"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := SeedLines(tt.size, tt.seeds, tt.lines); got != nil {
				t.Errorf("got %v, want nil", got)
			}
		})
	}
}
