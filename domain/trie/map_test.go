package trie_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/trie"
)

// TestLikeGoMaps does the same to a Map and to a Go map, with hashes that differ,
// that meet on some levels and that are all one. Every copy that was kept must
// stay as it was.
func TestLikeGoMaps(t *testing.T) {
	hashes := map[string]func(string) uint64{
		"all alike":       func(string) uint64 { return 7 },
		"alike at first":  func(k string) uint64 { return uint64(len(k)) << 58 },
		"by length":       func(k string) uint64 { return uint64(len(k)) },
		"two at the end":  func(k string) uint64 { return uint64(len(k)%2) << 59 },
		"beyond the last": func(k string) uint64 { return uint64(len(k)) << 61 },
	}
	for name, hash := range hashes {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				var m trie.Map[string, int]
				plain := map[string]int{}
				type kept struct {
					m     trie.Map[string, int]
					plain map[string]int
				}
				var all []kept
				var owner *trie.Owner
				all = append(all, kept{m, maps.Clone(plain)})
				for n := range rapid.IntRange(1, 60).Draw(t, "steps") {
					k := fmt.Sprintf("%0*d", rapid.IntRange(1, 40).Draw(t, "length"), rapid.IntRange(0, 3).Draw(t, "key"))
					if rapid.Bool().Draw(t, "set") {
						m, plain[k] = m.WithHash(owner, hash, k, n), n
					} else {
						m = m.WithoutHash(owner, hash, k)
						delete(plain, k)
					}
					switch rapid.IntRange(0, 2).Draw(t, "copy") {
					case 0:
						owner = nil // it is shared from here on
						all = append(all, kept{m, maps.Clone(plain)})
					case 1:
						all = append(all, kept{m, maps.Clone(plain)})
						owner = &trie.Owner{} // of what is made from here on
					}
				}
				for _, a := range append(all, kept{m, plain}) {
					if got := maps.Collect(a.m.AllHash(hash)); !maps.Equal(got, a.plain) || a.m.Len() != len(a.plain) {
						t.Fatalf("got %v (%d), want %v", got, a.m.Len(), a.plain)
					}
					for k, want := range plain {
						got, there := a.m.GetHash(hash, k)
						if old, was := a.plain[k]; there != was || was && got != old {
							t.Fatalf("%q leads to %d (%v), want %d (%v); it is now %d", k, got, there, old, was, want)
						}
					}
				}
			})
		})
	}
}

// TestManyKeys, of strings and of numbers, by the hash that programs use.
func TestManyKeys(t *testing.T) {
	const many = 20_000
	var byName trie.Map[string, int]
	var byNumber trie.Map[int, string]
	for n := range many {
		byName = byName.With(fmt.Sprint(n), n)
		byNumber = byNumber.With(n, fmt.Sprint(n))
	}
	before := byName
	var own trie.Map[string, int]
	owner := &trie.Owner{}
	for n := range many {
		own = own.WithBy(owner, fmt.Sprint(n), n)
	}
	if !maps.Equal(maps.Collect(own.All()), maps.Collect(byName.All())) {
		t.Fatal("an owner makes another map")
	}
	for n := 0; n < many; n += 2 {
		byName = byName.Without(fmt.Sprint(n))
	}
	if byName.Len() != many/2 || before.Len() != many || byNumber.Len() != many {
		t.Fatalf("%d, %d and %d keys", byName.Len(), before.Len(), byNumber.Len())
	}
	for n := range many {
		_, there := byName.Get(fmt.Sprint(n))
		if there != (n%2 == 1) || before.At(fmt.Sprint(n)) != n || byNumber.At(n) != fmt.Sprint(n) {
			t.Fatalf("key %d is wrong", n)
		}
	}
	if byNumber.At(many) != "" {
		t.Error("a key that is not there has a value")
	}
}

// TestJSONOfGoMaps: the form is that of a Go map, which sorts keys as strings.
func TestJSONOfGoMaps(t *testing.T) {
	for n := range 40 {
		m, plain := trie.Map[int, string]{}, map[int]string{}
		for i := range n {
			m, plain[i*7] = m.With(i*7, fmt.Sprint(i)), fmt.Sprint(i)
		}
		got, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		want, err := json.Marshal(plain)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Fatalf("got %s, want %s", got, want)
		}
		var back trie.Map[int, string]
		if err := json.Unmarshal(got, &back); err != nil || !maps.Equal(maps.Collect(back.All()), plain) {
			t.Fatalf("%s comes back as %v (%v)", got, maps.Collect(back.All()), err)
		}
	}
}
