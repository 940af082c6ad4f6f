package matching

// row is the least value(v) - w(v, x) over the vertices v of one S-blossom for every vertex x, and that v.
type row struct {
	key  column
	from []int32
}

// rows lends rows to S-blossoms and keeps them for the next stages.
type rows struct {
	n, words int
	all      []row
	of       []int32 // by blossom
	unused   []int32
}

// take lends an empty row.
func (r *rows) take(b int32) row {
	if len(r.unused) == 0 {
		r.all = append(r.all, row{newColumn(r.words, r.n), make([]int32, r.n)})
		r.unused = append(r.unused, int32(len(r.all)-1))
	}
	i := r.unused[len(r.unused)-1]
	r.unused = r.unused[:len(r.unused)-1]
	r.of[b] = i
	r.all[i].key.fill(beyond)
	return r.all[i]
}

func (r *rows) row(b int32) row { return r.all[r.of[b]] }

func (r *rows) release(b int32) { r.unused = append(r.unused, r.of[b]) }

func (r *rows) releaseAll() {
	r.unused = r.unused[:0]
	for i := len(r.all) - 1; i >= 0; i-- {
		r.unused = append(r.unused, int32(i))
	}
}
