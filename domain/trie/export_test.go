package trie

// WithHash and its like are With and its like under a hash of the test's own, so
// that keys meet that never would.
func (m Map[K, V]) WithHash(owner *Owner, hash func(K) uint64, k K, v V) Map[K, V] {
	return m.with(owner, hash(k), leaf[K, V]{k, v}, hash)
}

func (m Map[K, V]) WithoutHash(hash func(K) uint64, k K) Map[K, V] { return m.without(hash(k), k) }

func (m Map[K, V]) GetHash(hash func(K) uint64, k K) (V, bool) { return m.get(hash(k), k) }
