package matching

// bridge is an edge between two S-blossoms that may become tight.
type bridge struct{ v, x int32 }

// bridges are the candidates for the next edge between two S-blossoms: for each of them the best edge, when it was
// made, to those that were there before. One that another blossom has swallowed leaves an edge that is no better.
type bridges struct {
	edges []bridge
	// gap is twice the now at which each edge is tight.
	gap column
	// tightest is the index of the edge with the least gap, or -1.
	tightest int
}

func (r *bridges) reset() {
	r.edges = r.edges[:0]
	r.tightest = -1
}

// draft is where the gap of the edge to be added next is written.
func (r *bridges) draft() []int64 { return r.gap.at(int32(len(r.edges))) }

// add takes in the edge whose gap stands in the draft.
func (r *bridges) add(v, x int32) {
	r.edges = append(r.edges, bridge{v, x})
	r.compare(len(r.edges) - 1)
}

func (r *bridges) compare(i int) {
	if r.tightest < 0 || less(r.gap.at(int32(i)), r.gap.at(int32(r.tightest))) {
		r.tightest = i
	}
}

// drop forgets the edges both of whose ends now lie in one blossom.
func (r *bridges) drop(top []int32) {
	edges := r.edges
	r.reset()
	for i, e := range edges {
		if top[e.v] != top[e.x] {
			set(r.draft(), r.gap.at(int32(i)))
			r.add(e.v, e.x)
		}
	}
}
