// Package trie holds a map whose copies share memory: a state that grows for years
// is copied for every order, and an order touches a handful of its entries.
//
// It is a hash array mapped trie (P. Bagwell, "Ideal Hash Trees", 2001) with leaves
// and branches kept apart in each node (M. Steindorfer and J. Vinju, "Optimizing
// Hash-Array Mapped Tries for Fast and Lean Immutable JVM Collections", 2015).
package trie

import (
	"encoding/json"
	"hash/maphash"
	"iter"
	"maps"
	"math/bits"
	"slices"
)

// Map leads from keys to values. It is a value: an assignment is a copy, and
// nothing that is done to one of the two is seen in the other, so any number of
// goroutines may read it. The zero Map is empty. Looking up and changing cost the
// logarithm of its length to base 32.
//
// What an owner put in before the map was shared stands in a Go map that never
// changes again: a log of years is folded so in a fraction of the time.
type Map[K comparable, V any] struct {
	root  *node[K, V] // what differs from base
	base  map[K]V
	owner *Owner // who may change base
	len   int
}

// Owner is a right to change in place what was made under it. Whoever shares a map
// forgets its owner first, for the copies would change with it.
type Owner struct{ _ byte } // of a size, so that no two are one

// node is one level: five bits of the hash say which of 32 places is meant. Below
// the last level it is a plain list of leaves. A node is never changed.
type node[K comparable, V any] struct {
	atLeaf, atKid uint32 // which places are taken, by a leaf or by a further level
	leaves        []leaf[K, V]
	kids          []*node[K, V]
}

type leaf[K comparable, V any] struct {
	key   K
	value V
	gone  bool // the key is in base and not in the map any more
}

const (
	perLevel = 5
	levels   = 12 // use 60 bits of the hash
)

// seed keeps who chooses keys from choosing where they go. As with Go's own map,
// it shows in no result but the order of All.
var seed = maphash.MakeSeed()

func hashOf[K comparable](k K) uint64 { return maphash.Comparable(seed, k) }

// Len is how many keys there are.
func (m Map[K, V]) Len() int { return m.len }

// Get is the value of a key, and whether it is there.
func (m Map[K, V]) Get(k K) (V, bool) { return m.get(hashOf[K], k) }

// At is the value of a key, or the zero value.
func (m Map[K, V]) At(k K) V {
	v, _ := m.Get(k)
	return v
}

func (m Map[K, V]) get(hashOf func(K) uint64, k K) (v V, there bool) {
	if m.root != nil {
		if l, differs := m.root.get(hashOf(k), k); differs {
			return l.value, !l.gone
		}
	}
	v, there = m.base[k]
	return v, there
}

func (n *node[K, V]) get(hash uint64, k K) (l leaf[K, V], there bool) {
	for level := 0; n != nil; level++ {
		if level == levels {
			if i := n.find(k); i >= 0 {
				return n.leaves[i], true
			}
			return l, false
		}
		bit := place(hash, level)
		if n.atLeaf&bit != 0 {
			l = n.leaves[index(n.atLeaf, bit)]
			return l, l.key == k
		}
		if n.atKid&bit == 0 {
			return l, false
		}
		n = n.kids[index(n.atKid, bit)]
	}
	return l, false
}

// find is where a list has a key; -1 is nowhere.
func (n *node[K, V]) find(k K) int {
	return slices.IndexFunc(n.leaves, func(l leaf[K, V]) bool { return l.key == k })
}

// place is the bit of a level's place for a hash.
func place(hash uint64, level int) uint32 { return 1 << (hash >> (perLevel * level) & 31) }

// index is where a place's leaf or kid stands among those that there are.
func index(taken, bit uint32) int { return bits.OnesCount32(taken & (bit - 1)) }

// With is the map with a key set.
func (m Map[K, V]) With(k K, v V) Map[K, V] { return m.WithBy(nil, k, v) }

// WithBy is With for an owner: m itself must not be used any more, nor any copy of
// it. A nil owner may change nothing.
func (m Map[K, V]) WithBy(owner *Owner, k K, v V) Map[K, V] { return m.with(owner, hashOf[K], k, v) }

func (m Map[K, V]) with(owner *Owner, hashOf func(K) uint64, k K, v V) Map[K, V] {
	if m.root == nil && m.base == nil && owner != nil {
		m.base, m.owner = map[K]V{}, owner
	}
	if m.owns(owner) {
		m.base[k] = v
		m.len = len(m.base)
		return m
	}
	if _, there := m.get(hashOf, k); !there {
		m.len++
	}
	m.root = m.root.with(hashOf(k), 0, leaf[K, V]{key: k, value: v}, hashOf)
	return m
}

// owns says that all of the map is in base and the owner may change it.
func (m Map[K, V]) owns(owner *Owner) bool { return owner != nil && m.owner == owner && m.root == nil }

// with is the node with a leaf set. n may be nil.
func (n *node[K, V]) with(hash uint64, level int, l leaf[K, V], hashOf func(K) uint64) *node[K, V] {
	var c node[K, V]
	if n != nil {
		c = *n
	}
	if level == levels {
		if i := c.find(l.key); i >= 0 {
			c.leaves = replaced(c.leaves, i, l)
		} else {
			c.leaves = inserted(c.leaves, len(c.leaves), l)
		}
		return &c
	}
	bit := place(hash, level)
	leaf, kid := index(c.atLeaf, bit), index(c.atKid, bit)
	switch {
	case c.atKid&bit != 0:
		c.kids = replaced(c.kids, kid, c.kids[kid].with(hash, level+1, l, hashOf))
		return &c
	case c.atLeaf&bit == 0:
		c.atLeaf |= bit
		c.leaves = inserted(c.leaves, leaf, l)
		return &c
	case c.leaves[leaf].key == l.key:
		c.leaves = replaced(c.leaves, leaf, l)
		return &c
	}
	// Two keys for one place: both go a level down.
	old := c.leaves[leaf]
	below := (*node[K, V])(nil).with(hashOf(old.key), level+1, old, hashOf).with(hash, level+1, l, hashOf)
	c.atLeaf, c.leaves = c.atLeaf&^bit, removed(c.leaves, leaf)
	c.atKid, c.kids = c.atKid|bit, inserted(c.kids, kid, below)
	return &c
}

// Without is the map without a key.
func (m Map[K, V]) Without(k K) Map[K, V] { return m.WithoutBy(nil, k) }

// WithoutBy is Without for an owner, as WithBy is With.
func (m Map[K, V]) WithoutBy(owner *Owner, k K) Map[K, V] { return m.without(owner, hashOf[K], k) }

func (m Map[K, V]) without(owner *Owner, hashOf func(K) uint64, k K) Map[K, V] {
	if _, there := m.get(hashOf, k); !there {
		return m
	}
	m.len--
	if m.owns(owner) {
		delete(m.base, k)
		return m
	}
	if _, below := m.base[k]; below {
		m.root = m.root.with(hashOf(k), 0, leaf[K, V]{key: k, gone: true}, hashOf)
	} else {
		m.root = m.root.without(hashOf(k), 0, k)
	}
	return m
}

// without is the node without a key that is there; nil where nothing is left.
func (n *node[K, V]) without(hash uint64, level int, k K) *node[K, V] {
	c := *n
	bit := place(hash, level)
	kid := index(c.atKid, bit)
	switch {
	case level == levels:
		c.leaves = removed(c.leaves, c.find(k))
	case c.atLeaf&bit != 0:
		c.leaves = removed(c.leaves, index(c.atLeaf, bit))
		c.atLeaf &^= bit
	default:
		below := c.kids[kid].without(hash, level+1, k)
		if below != nil {
			c.kids = replaced(c.kids, kid, below)
			break
		}
		c.kids = removed(c.kids, kid)
		c.atKid &^= bit
	}
	if len(c.leaves)+len(c.kids) == 0 {
		return nil
	}
	return &c
}

// All goes through keys and values in no order that means anything.
func (m Map[K, V]) All() iter.Seq2[K, V] { return m.all(hashOf[K]) }

func (m Map[K, V]) all(hashOf func(K) uint64) iter.Seq2[K, V] {
	return func(yield func(K, V) bool) {
		for k, v := range m.base {
			if m.root != nil {
				if _, differs := m.root.get(hashOf(k), k); differs {
					continue
				}
			}
			if !yield(k, v) {
				return
			}
		}
		m.root.all(yield)
	}
}

func (n *node[K, V]) all(yield func(K, V) bool) bool {
	if n == nil {
		return true
	}
	for _, l := range n.leaves {
		if !l.gone && !yield(l.key, l.value) {
			return false
		}
	}
	for _, kid := range n.kids {
		if !kid.all(yield) {
			return false
		}
	}
	return true
}

// MarshalJSON writes what a Go map would, in the same order.
func (m Map[K, V]) MarshalJSON() ([]byte, error) {
	plain := make(map[K]V, m.len)
	maps.Insert(plain, m.All())
	return json.Marshal(plain)
}

// UnmarshalJSON reads what a Go map would.
func (m *Map[K, V]) UnmarshalJSON(text []byte) error {
	var plain map[K]V
	if err := json.Unmarshal(text, &plain); err != nil {
		return err
	}
	*m = Map[K, V]{base: plain, len: len(plain)}
	return nil
}

// What follows makes new lists, with no room to spare.

func replaced[T any](list []T, i int, v T) []T {
	out := slices.Clone(list)
	out[i] = v
	return out
}

func inserted[T any](list []T, i int, v T) []T {
	out := make([]T, len(list)+1)
	copy(out, list[:i])
	out[i] = v
	copy(out[i+1:], list[i:])
	return out
}

func removed[T any](list []T, i int) []T {
	if len(list) == 1 {
		return nil
	}
	out := make([]T, len(list)-1)
	copy(out, list[:i])
	copy(out[i:], list[i+1:])
	return out
}
