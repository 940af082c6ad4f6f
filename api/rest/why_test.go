package rest

import (
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"benchmeet/api/gen"
)

// TestEveryFormOfTextHasWords: a pattern or a format of the contract is said in words and
// not shown, and no body takes names that the contract does not list.
func TestEveryFormOfTextHasWords(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	forms := map[string]bool{"binary": true, "double": true, "int64": true} // they ask nothing of a text
	seen := map[*openapi3.Schema]bool{}
	var look func(at string, ref *openapi3.SchemaRef, sent bool)
	look = func(at string, ref *openapi3.SchemaRef, sent bool) {
		if ref == nil || ref.Value == nil || seen[ref.Value] {
			return
		}
		s := ref.Value
		seen[s] = true
		if s.Pattern != "" && patterns[s.Pattern] == "" {
			t.Errorf("%s: the pattern %s has no words", at, s.Pattern)
		}
		if s.Format != "" && formats[s.Format] == "" && !forms[s.Format] {
			t.Errorf("%s: the format %s has no words", at, s.Format)
		}
		if open := s.AdditionalProperties; sent && len(s.Properties) > 0 && (open.Has == nil || *open.Has) {
			t.Errorf("%s takes any name", at)
		}
		for name, of := range s.Properties {
			look(at+"/"+name, of, sent)
		}
		for _, of := range s.AllOf {
			look(at, of, sent)
		}
		look(at, s.Items, sent)
	}
	for path, item := range spec.Paths.Map() {
		for method, op := range item.Operations() {
			for _, p := range op.Parameters {
				look(method+" "+path+" "+p.Value.Name, p.Value.Schema, false)
			}
			if op.RequestBody == nil {
				continue
			}
			for _, content := range op.RequestBody.Value.Content {
				// The decoder of chunks has its own list.
				look(method+" "+path, content.Schema, !strings.HasSuffix(path, "/chunks"))
			}
		}
	}
	if len(seen) < 50 {
		t.Errorf("only %d schemas were looked at", len(seen))
	}
}
