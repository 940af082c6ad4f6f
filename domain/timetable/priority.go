package timetable

import (
	"container/heap"
	"math/rand/v2"
)

// rule orders what can start: less goes first.
type rule func(m *model) []float64

// rules are the priority rules of the first plans (Kolisch 1996): by the time that
// must follow, by how many must follow, by the work that must follow, by slack, by
// how much its entries still have before them, by need, by length.
var rules = []rule{
	func(m *model) []float64 { return m.keys(func(i int) float64 { return float64(-m.tail[i]) }) },
	func(m *model) []float64 { return m.keys(func(i int) float64 { return float64(-m.tail[i] - m.dur[i]) }) },
	func(m *model) []float64 { return m.keys(func(i int) float64 { return float64(m.head[i] - m.tail[i]) }) },
	func(m *model) []float64 {
		after := make([]float64, m.n)
		work := make([]float64, m.n)
		for j, s := range m.before {
			for _, i := range s.list(nil) {
				after[i]++
				work[i] += float64(m.dur[j])
			}
		}
		return m.keys(func(i int) float64 { return -after[i] - 1e-9*work[i] })
	},
	func(m *model) []float64 {
		load := make([]float64, len(m.of))
		for e, list := range m.of {
			for _, i := range list {
				load[e] += float64(m.dur[i] + m.rest[e])
			}
		}
		return m.keys(func(i int) float64 {
			most := 0.0
			for _, e := range m.ents[i] {
				most = max(most, load[e])
			}
			return -max(most, float64(m.tail[i]))
		})
	},
	func(m *model) []float64 {
		return m.keys(func(i int) float64 {
			share := 0.0
			for _, u := range m.needs[i] {
				share = max(share, float64(u.n)/float64(m.p.Resources[u.res].Capacity))
			}
			return -share * float64(m.dur[i])
		})
	},
	func(m *model) []float64 { return m.keys(func(i int) float64 { return float64(-m.dur[i]) }) },
	func(m *model) []float64 { return m.keys(func(i int) float64 { return float64(m.late[i]) }) },
}

func (m *model) keys(key func(i int) float64) []float64 {
	out := make([]float64, m.n)
	for i := range out {
		out[i] = key(i)
	}
	return out
}

// ordered writes a list that keeps the order of activities and, where that leaves
// a choice, takes the least key first.
func (d *decoder) ordered(key []float64, list []int) []int {
	d.queue = d.queue[:0]
	for i := range d.m.n {
		if d.open[i] = len(d.m.pred[i]); d.open[i] == 0 {
			heap.Push(&d.queue, waiting{0, key[i], i})
		}
	}
	list = list[:0]
	for len(d.queue) > 0 {
		i := heap.Pop(&d.queue).(waiting).i
		list = append(list, i)
		for _, s := range d.m.succ[i] {
			if d.open[s.to]--; d.open[s.to] == 0 {
				heap.Push(&d.queue, waiting{0, key[s.to], s.to})
			}
		}
	}
	return list
}

// shaken returns keys that are moved by up to a part of their range.
func shaken(key []float64, part float64, r *rand.Rand) []float64 {
	lo, hi := key[0], key[0]
	for _, k := range key {
		lo, hi = min(lo, k), max(hi, k)
	}
	out := make([]float64, len(key))
	for i, k := range key {
		out[i] = k + part*(hi-lo+1e-9)*r.Float64()
	}
	return out
}
