package trie

import "iter"

// WithHash and its like are With and its like under a hash of the test's own, so
// that keys meet that never would.
func (m Map[K, V]) WithHash(owner *Owner, hash func(K) uint64, k K, v V) Map[K, V] {
	return m.with(owner, hash, k, v)
}

func (m Map[K, V]) WithoutHash(owner *Owner, hash func(K) uint64, k K) Map[K, V] {
	return m.without(owner, hash, k)
}

func (m Map[K, V]) GetHash(hash func(K) uint64, k K) (V, bool) { return m.get(hash, k) }

func (m Map[K, V]) AllHash(hash func(K) uint64) iter.Seq2[K, V] { return m.all(hash) }
