package ledger_test

import (
	"encoding"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/ledger"
)

var updateShapes = flag.Bool("update-shapes", false, "add the shapes of new kinds and versions of events; those that are there stay")

// TestShapesOfEvents: the fields of an event in a version are those that stand in the table
// since that version was first written. A program that knows it refuses any other field, and
// may run beside this one: a field more or less is a new version, which Lower writes as the one
// before.
func TestShapesOfEvents(t *testing.T) {
	path := filepath.Join("testdata", "shapes.txt")
	known := map[string]string{}
	text, err := os.ReadFile(path)
	if err != nil && !(*updateShapes && os.IsNotExist(err)) {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		name, shape, _ := strings.Cut(strings.TrimSuffix(line, "\n"), ": ")
		known[name] = shape
	}
	kinds := map[string]bool{}
	for name, shape := range shapes(t, kinds) {
		switch was, there := known[name]; {
		case !there && *updateShapes:
			known[name] = shape
		case !there:
			t.Errorf("%s is not in the table: -update-shapes adds it", name)
		case was != shape:
			t.Errorf("%s has another shape than it was first written with: raise its version\nwas %s\nis  %s", name, was, shape)
		}
	}
	for name := range known {
		if kind, _, _ := strings.Cut(name, " "); !kinds[kind] {
			t.Errorf("%s is in the table and nobody knows it any more: old logs open for ever", name)
		}
	}
	if !*updateShapes {
		return
	}
	var out []string
	for name, shape := range known {
		out = append(out, name+": "+shape+"\n")
	}
	slices.Sort(out)
	if err := os.WriteFile(path, []byte(strings.Join(out, "")), 0o644); err != nil {
		t.Fatal(err)
	}
}

// shapes are those of all events as they are written now. No kind is one of a meet and of a club.
func shapes(t *testing.T, kinds map[string]bool) map[string]string {
	t.Helper()
	out := map[string]string{}
	add := func(kind string, version int, e any, err error) {
		if err != nil {
			t.Fatal(err)
		}
		if kinds[kind] {
			t.Errorf("%s is an event of meets and of clubs", kind)
		}
		kinds[kind] = true
		out[fmt.Sprintf("%s %d", kind, version)] = shapeOf(reflect.TypeOf(e))
	}
	meets, clubs := ledger.Meets(), ledger.Clubs()
	for kind, version := range meets.Reads() {
		e, err := meets.Decode(kind, version, []byte("{}"))
		add(kind, version, e, err)
	}
	for kind, version := range clubs.Reads() {
		e, err := clubs.Decode(kind, version, []byte("{}"))
		add(kind, version, e, err)
	}
	return out
}

var asText = reflect.TypeFor[encoding.TextMarshaler]()

// shapeOf is what encoding/json makes of a type: names and kinds of values, in order of names.
func shapeOf(of reflect.Type) string {
	switch {
	case of.Implements(asText):
		return "string"
	case of.Kind() == reflect.Pointer:
		return shapeOf(of.Elem()) + "?"
	case of.Kind() == reflect.Slice && of.Elem().Kind() != reflect.Uint8:
		return "[" + shapeOf(of.Elem()) + "]"
	case of.Kind() == reflect.Map:
		return "{*: " + shapeOf(of.Elem()) + "}"
	case of.Kind() == reflect.Struct:
		var fields []string
		for _, f := range reflect.VisibleFields(of) {
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name == "-" || !f.IsExported() || f.Anonymous && name == "" {
				continue
			}
			if name == "" {
				name = f.Name
			}
			fields = append(fields, name+" "+shapeOf(f.Type))
		}
		slices.Sort(fields)
		return "{" + strings.Join(fields, ", ") + "}"
	}
	return of.Kind().String()
}
