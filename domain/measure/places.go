package measure

import "math"

// places is a fit of the places of marks: the number of a stamp is a cubic of its
// time, less the distance in steps of its mark from where it would be evenly.
type places struct {
	c [3 + lessonMarks]float64
}

// fit solves the least squares by the normal equations; the times are scaled to
// lie within -1 and 1, so that these are well conditioned. It is false where the
// stamps lie off the fit by more than a fifth of a step.
func (p *places) fit(stamps []int64, marks int) bool {
	const most = 3 + lessonMarks
	size := 3 + marks // of a cubic with a constant for each mark
	middle := stamps[len(stamps)/2]
	scale := float64(stamps[len(stamps)-1]-stamps[0]) / 2
	var a [most][most + 1]float64
	row := func(i int) (r [most]float64) {
		x := float64(stamps[i]-middle) / scale
		r[0], r[1], r[2], r[3+i%marks] = x, x*x, x*x*x, 1
		return r
	}
	for i := range stamps {
		r := row(i)
		for j := range size {
			for k := range size {
				a[j][k] += r[j] * r[k]
			}
			a[j][size] += r[j] * float64(i)
		}
	}
	for i := range size {
		pivot := i
		for k := i + 1; k < size; k++ {
			if math.Abs(a[k][i]) > math.Abs(a[pivot][i]) {
				pivot = k
			}
		}
		a[i], a[pivot] = a[pivot], a[i]
		if math.Abs(a[i][i]) < 1e-12 {
			return false
		}
		for k := range size {
			if k != i {
				f := a[k][i] / a[i][i]
				for j := i; j <= size; j++ {
					a[k][j] -= f * a[i][j]
				}
			}
		}
	}
	for i := range size {
		p.c[i] = a[i][size] / a[i][i]
	}
	for i := range stamps {
		off := -float64(i)
		for j, x := range row(i) {
			off += x * p.c[j]
		}
		if math.Abs(off) > 0.2 {
			return false
		}
	}
	return true
}

// parts returns the parts of a turn from each mark to the next, and whether they are
// as good as even. The marks are numbered from the first stamp of the fit.
func (p *places) parts(marks int) (part [lessonMarks]float64, even bool) {
	even = true
	for i := range marks {
		next := p.c[3+(i+1)%marks]
		// A larger constant means that less of the turn has gone at the same time: the
		// number of a stamp is the cubic plus the constant, its place the cubic alone.
		step := 1 + p.c[3+i] - next
		part[i] = step / float64(marks)
		if math.Abs(step-1) > lessonEven {
			even = false
		}
	}
	return part, even
}
