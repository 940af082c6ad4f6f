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
type Map[K comparable, V any] struct {
	root *node[K, V]
	len  int
}

// Owner is a right to change in place what was made under it: a log is folded into
// a map of its own twice as quickly so. Whoever shares a map forgets its owner
// first, for the copies would change with it.
type Owner struct{ _ byte } // of a size, so that no two are one

// node is one level: five bits of the hash say which of 32 places is meant. Below
// the last level it is a plain list of leaves. A node is never changed but by its
// owner.
type node[K comparable, V any] struct {
	owner         *Owner // who may change it in place; nil is nobody
	atLeaf, atKid uint32 // which places are taken, by a leaf or by a further level
	leaves        []leaf[K, V]
	kids          []*node[K, V]
}

type leaf[K comparable, V any] struct {
	key   K
	value V
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
func (m Map[K, V]) Get(k K) (V, bool) { return m.get(hashOf(k), k) }

// At is the value of a key, or the zero value.
func (m Map[K, V]) At(k K) V {
	v, _ := m.Get(k)
	return v
}

func (m Map[K, V]) get(hash uint64, k K) (v V, there bool) {
	n := m.root
	for level := 0; n != nil; level++ {
		if level == levels {
			if i := n.find(k); i >= 0 {
				return n.leaves[i].value, true
			}
			return v, false
		}
		bit := place(hash, level)
		if n.atLeaf&bit != 0 {
			if l := n.leaves[index(n.atLeaf, bit)]; l.key == k {
				return l.value, true
			}
			return v, false
		}
		if n.atKid&bit == 0 {
			return v, false
		}
		n = n.kids[index(n.atKid, bit)]
	}
	return v, false
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
func (m Map[K, V]) WithBy(owner *Owner, k K, v V) Map[K, V] {
	return m.with(owner, hashOf(k), leaf[K, V]{k, v}, hashOf[K])
}

func (m Map[K, V]) with(owner *Owner, hash uint64, l leaf[K, V], hashOf func(K) uint64) Map[K, V] {
	root, fresh := m.root.with(owner, hash, 0, l, hashOf)
	if fresh {
		m.len++
	}
	m.root = root
	return m
}

// mine is the node, or a copy of it, as an owner may change it. n may be nil. The
// lists of a copy without an owner are still those of n.
func (n *node[K, V]) mine(owner *Owner) *node[K, V] {
	switch {
	case n == nil:
		return &node[K, V]{owner: owner}
	case owner != nil && n.owner == owner:
		return n
	}
	c := *n
	c.owner = owner
	if owner != nil {
		c.leaves, c.kids = slices.Clone(c.leaves), slices.Clone(c.kids)
	}
	return &c
}

// with is the node with a leaf set, and whether its key is new. n may be nil.
func (n *node[K, V]) with(owner *Owner, hash uint64, level int, l leaf[K, V], hashOf func(K) uint64) (*node[K, V], bool) {
	c := n.mine(owner)
	if level == levels {
		if i := c.find(l.key); i >= 0 {
			c.leaves = replaced(owner, c.leaves, i, l)
			return c, false
		}
		c.leaves = inserted(owner, c.leaves, len(c.leaves), l)
		return c, true
	}
	bit := place(hash, level)
	leaf, kid := index(c.atLeaf, bit), index(c.atKid, bit)
	switch {
	case c.atKid&bit != 0:
		below, fresh := c.kids[kid].with(owner, hash, level+1, l, hashOf)
		c.kids = replaced(owner, c.kids, kid, below)
		return c, fresh
	case c.atLeaf&bit == 0:
		c.atLeaf |= bit
		c.leaves = inserted(owner, c.leaves, leaf, l)
		return c, true
	case c.leaves[leaf].key == l.key:
		c.leaves = replaced(owner, c.leaves, leaf, l)
		return c, false
	}
	// Two keys for one place: both go a level down.
	old := c.leaves[leaf]
	below, _ := (*node[K, V])(nil).with(owner, hashOf(old.key), level+1, old, hashOf)
	below, _ = below.with(owner, hash, level+1, l, hashOf)
	c.atLeaf, c.leaves = c.atLeaf&^bit, removed(c.leaves, leaf)
	c.atKid, c.kids = c.atKid|bit, inserted(owner, c.kids, kid, below)
	return c, true
}

// Without is the map without a key.
func (m Map[K, V]) Without(k K) Map[K, V] { return m.without(hashOf(k), k) }

func (m Map[K, V]) without(hash uint64, k K) Map[K, V] {
	if _, there := m.get(hash, k); there {
		m.root = m.root.without(hash, 0, k)
		m.len--
	}
	return m
}

// without is the node without a key that is there; nil where nothing is left.
func (n *node[K, V]) without(hash uint64, level int, k K) *node[K, V] {
	c := n.mine(nil)
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
			c.kids = replaced(nil, c.kids, kid, below)
			break
		}
		c.kids = removed(c.kids, kid)
		c.atKid &^= bit
	}
	if len(c.leaves)+len(c.kids) == 0 {
		return nil
	}
	return c
}

// All goes through keys and values in no order that means anything.
func (m Map[K, V]) All() iter.Seq2[K, V] {
	return func(yield func(K, V) bool) { m.root.all(yield) }
}

func (n *node[K, V]) all(yield func(K, V) bool) bool {
	if n == nil {
		return true
	}
	for _, l := range n.leaves {
		if !yield(l.key, l.value) {
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
	*m = Map[K, V]{}
	owner := &Owner{}
	for k, v := range plain {
		*m = m.WithBy(owner, k, v)
	}
	return nil
}

// What follows changes the lists of an owner, and for nobody makes new ones with no
// room to spare.

func replaced[T any](owner *Owner, list []T, i int, v T) []T {
	out := list
	if owner == nil {
		out = slices.Clone(list)
	}
	out[i] = v
	return out
}

func inserted[T any](owner *Owner, list []T, i int, v T) []T {
	if owner != nil {
		return slices.Insert(list, i, v)
	}
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
