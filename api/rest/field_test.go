package rest

import (
	"testing"

	"github.com/getkin/kin-openapi/openapi3"

	"benchmeet/api/gen"
	"benchmeet/domain/refusal"
)

// TestRefusalsNameFieldsThatOrdersHave: a page marks the field by its name in the body.
func TestRefusalsNameFieldsThatOrdersHave(t *testing.T) {
	spec, err := gen.GetSpec()
	if err != nil {
		t.Fatal(err)
	}
	fields := map[string]bool{}
	for _, item := range spec.Paths.Map() {
		for _, op := range item.Operations() {
			if op.RequestBody != nil {
				for _, content := range op.RequestBody.Value.Content {
					namesIn(content.Schema, fields, 0)
				}
			}
		}
	}
	known := map[refusal.Code]bool{}
	for _, c := range refusal.Codes() {
		known[c] = true
	}
	for code, field := range fieldOf {
		if !known[code] {
			t.Errorf("the code %s has a field and no sentence", code)
		}
		if !fields[field] {
			t.Errorf("%s names the field %q, which no order has", code, field)
		}
	}
}

func namesIn(s *openapi3.SchemaRef, fields map[string]bool, deep int) {
	if s == nil || s.Value == nil || deep > 6 {
		return
	}
	for name, of := range s.Value.Properties {
		fields[name] = true
		namesIn(of, fields, deep+1)
	}
	for _, of := range s.Value.AllOf {
		namesIn(of, fields, deep+1)
	}
	namesIn(s.Value.Items, fields, deep+1)
}
