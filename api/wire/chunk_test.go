package wire

import (
	"encoding/json"
	"testing"

	"benchmeet/domain/trace"
)

// FuzzDecodeChunk: no body crashes the decoder, and what it accepts is a chunk
// that can be kept and read again.
func FuzzReadChunk(f *testing.F) {
	for _, seed := range []string{
		`{"boot":"00000000000000aa","run":"r","number":0,"stamps_us":[1,2,3],"last":{"chunks":1,"stamps":3}}`,
		`{"boot":"00000000000000aa","run":"r","number":1,"stamps_us":[],"last":{"chunks":2,"stamps":0,"meet":"m","start_source":"arrival","start_us":5,"start_delay_us":9,"duration_us":7,"car":"12"}}`,
		`{"boot":"0","run":"","number":-1,"stamps_us":[9007199254740993]}`,
		`[]`, `{"stamps_us":[1e400]}`, `{"boot":null}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		c, err := ReadChunk("b1", body)
		if err != nil {
			if err.Error() == "" {
				t.Error("refused without a sentence")
			}
			return
		}
		stored := c.Pack()
		if !stored.Same(c.Pack()) {
			t.Error("the same chunk packs to other bytes")
		}
		if c.Last == nil || c.Last.Chunks != 1 {
			return
		}
		train, err := trace.Join([]trace.Stored{stored})
		if err == nil && len(train.Stamps) != len(c.Stamps) {
			t.Errorf("%d stamps went in, %d came out", len(c.Stamps), len(train.Stamps))
		}
	})
}

func BenchmarkReadChunk(b *testing.B) {
	stamps := make([]int64, 1000)
	for i := range stamps {
		stamps[i] = int64(1_000_000 + 7000*i)
	}
	body, err := json.Marshal(map[string]any{"boot": "00000000000000aa", "run": "r", "number": 0, "stamps_us": stamps})
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(body)))
	for b.Loop() {
		if _, err := ReadChunk("b1", body); err != nil {
			b.Fatal(err)
		}
	}
}
