package archive

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"

	"benchmeet/api/store"
)

// proofs are the salted hashes of free texts that logs hold, by the text's id.
type proofs map[string]string

// hashField stands in every event that proves a text.
var hashField = []byte(`"text_hash":`)

// gather takes the hashes of an event in, wherever in its data they stand.
func (p proofs) gather(data []byte) error {
	if !bytes.Contains(data, hashField) {
		return nil
	}
	var v any
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if err := d.Decode(&v); err != nil {
		return err
	}
	p.walk(v)
	return nil
}

func (p proofs) walk(v any) {
	switch v := v.(type) {
	case map[string]any:
		id, isText := v["text"].(string)
		hash, isHash := v["text_hash"].(string)
		if isText && isHash {
			p[id] = hash
		}
		for _, inner := range v {
			p.walk(inner)
		}
	case []any:
		for _, inner := range v {
			p.walk(inner)
		}
	}
}

// holds says whether a text is the one that the logs prove; false, too, where
// no log tells of it.
func (p proofs) holds(t store.Text) (proved, right bool) {
	hash, proved := p[t.ID]
	sum := sha256.Sum256(append(append([]byte{}, t.Salt...), t.Text...))
	return proved, hash == hex.EncodeToString(sum[:])
}
