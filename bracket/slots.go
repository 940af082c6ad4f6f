package bracket

// SlotOrder returns the seeds (from 1) of a knockout of size lines, line by line, in the nested order: seed 1
// first, and every doubling replaces a seed s by the pair s and 2m+1-s. If favourites win, the two seeds of
// every match add up to one more than the number still in. Size must be a power of two; others return nil.
//
// Source: the usual placement of federations, common practice.
func SlotOrder(size int) []int {
	if size < 1 || size&(size-1) != 0 {
		return nil
	}
	order := []int{1}
	for m := 2; m <= size; m *= 2 {
		next := make([]int, 0, m)
		for _, s := range order {
			next = append(next, s, m+1-s)
		}
		order = next
	}
	return order
}

// MirroredSlotOrder returns the same tree as [SlotOrder], written so that seed 1 stands on the first line and
// seed 2 on the last: at every doubling the pairs on odd places are turned round.
func MirroredSlotOrder(size int) []int {
	if size < 1 || size&(size-1) != 0 {
		return nil
	}
	order := []int{1}
	for m := 2; m <= size; m *= 2 {
		next := make([]int, 0, m)
		for i, s := range order {
			if i%2 == 0 {
				next = append(next, s, m+1-s)
			} else {
				next = append(next, m+1-s, s)
			}
		}
		order = next
	}
	return order
}

// Lines is a federation's way to lay seeds on the lines of a knockout.
type Lines string

// The ways that [SeedLines] knows.
const (
	// SectionLines: seeds 1 and 2 at the top and the bottom, 3-4 at the bottom of the upper and the top of
	// the lower half, 5-8 at the bottom of odd and the top of even quarters, 9-16 the same in eighths, and
	// so on (ITTF Regulations for International Competitions 3.6.2; the line of 3-4 from memory).
	SectionLines Lines = "sections"
	// QuarterLines: seeds 3-4 at the top of the second and the bottom of the third quarter, 5-8 on the
	// inner ends of the quarters (ITF Women's Circuit 2015, placement of seeds). Known for up to 8 seeds.
	QuarterLines Lines = "quarters"
)

// SeedLines returns the lines (from 1) of a knockout of size lines, group by group: seed 1, seed 2, seeds 3-4,
// 5-8, 9-16 and so on until the groups hold the seeds asked for. Within a group the seeds are drawn by lot. It
// returns nil where the size is no power of two, where the seeds do not fit, or where the way has no rule.
func SeedLines(size, seeds int, lines Lines) [][]int {
	if size < 2 || size&(size-1) != 0 || seeds < 0 || seeds > size {
		return nil
	}
	var groups [][]int
	if seeds >= 1 {
		groups = append(groups, []int{1})
	}
	if seeds >= 2 {
		groups = append(groups, []int{size})
	}
	for sections := 2; sections < seeds; sections *= 2 {
		switch lines {
		case SectionLines:
			groups = append(groups, sectionEnds(size, sections))
		case QuarterLines:
			group := quarterEnds(size, sections)
			if group == nil {
				return nil
			}
			groups = append(groups, group)
		default:
			return nil
		}
	}
	return groups
}

// sectionEnds lists the bottom of every odd section and the top of every even one.
func sectionEnds(size, sections int) []int {
	length := size / sections
	var ends []int
	for k := range sections {
		if k%2 == 0 {
			ends = append(ends, (k+1)*length)
		} else {
			ends = append(ends, k*length+1)
		}
	}
	return ends
}

func quarterEnds(size, sections int) []int {
	quarter := size / 4
	switch {
	case sections == 2 && quarter > 0:
		return []int{quarter + 1, 3 * quarter}
	case sections == 4 && size >= 16:
		return []int{quarter, 2 * quarter, 2*quarter + 1, 3*quarter + 1}
	}
	return nil
}

// bracketSize returns the smallest power of two that is at least n.
func bracketSize(n int) int {
	size := 1
	for size < n {
		size *= 2
	}
	return size
}

// seedGroup returns the group of a seed (from 1): 0 for seed 1, 1 for seed 2, 2 for 3-4, 3 for 5-8, ...
func seedGroup(seed int) int {
	group := 0
	for size := 1; size < seed; size *= 2 {
		group++
	}
	return group
}
