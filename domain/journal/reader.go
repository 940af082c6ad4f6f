package journal

import (
	"bytes"
	"cmp"
	"encoding"
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"slices"
	"strings"
)

// Reader makes the function that reads the data of one type of event. It gives what
// encoding/json gives and refuses what that refuses, fields that E does not have
// included. Data in the canonical form is read several times quicker: its fields
// stand in a known order, so each is looked for at one place only. Reading years
// of practice again is almost nothing but this.
func Reader[E any]() func(data []byte) (E, error) {
	plan := planOf(reflect.TypeFor[E](), 0)
	return func(data []byte) (E, error) {
		if plan != nil {
			var e E
			c := cursor{text: data}
			if plan.read(&c, reflect.ValueOf(&e).Elem()) && c.over() {
				return e, nil
			}
		}
		return readSlowly[E](data)
	}
}

// readSlowly reads data of any form.
func readSlowly[E any](data []byte) (e E, err error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&e); err != nil {
		return e, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return e, errors.New("something stands behind its data")
	}
	return e, nil
}

// plan says how a type is read from canonical JSON.
type plan struct {
	kind   reflect.Kind
	fields []field // of a struct, by name
	of     *plan   // of what a pointer, slice or map holds
	key    reflect.Type
	elem   reflect.Type
}

// field is where a member of an object goes.
type field struct {
	name string
	at   []int
	plan *plan
}

var (
	readsItself = reflect.TypeFor[json.Unmarshaler]()
	readsText   = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// planOf makes the plan of a type; nil is one that only encoding/json can read.
func planOf(t reflect.Type, depth int) *plan {
	if p := reflect.PointerTo(t); depth > deepest || p.Implements(readsItself) || p.Implements(readsText) {
		return nil
	}
	out := &plan{kind: t.Kind()}
	switch t.Kind() {
	case reflect.String, reflect.Bool,
		reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return out
	case reflect.Struct:
		if !out.members(t, nil, depth) {
			return nil
		}
		slices.SortFunc(out.fields, func(a, b field) int { return cmp.Compare(a.name, b.name) })
		for i := range out.fields[min(1, len(out.fields)):] {
			if out.fields[i].name == out.fields[i+1].name {
				return nil // which of the two counts is encoding/json's to say
			}
		}
		return out
	case reflect.Map:
		if t.Key().Kind() != reflect.String || reflect.PointerTo(t.Key()).Implements(readsText) {
			return nil
		}
		out.key = t.Key()
	case reflect.Slice:
		if t.Elem().Kind() == reflect.Uint8 {
			return nil // stands in base64
		}
	case reflect.Pointer:
	default:
		return nil
	}
	out.elem = t.Elem()
	out.of = planOf(out.elem, depth+1)
	if out.of == nil {
		return nil
	}
	return out
}

// members adds the fields of a struct, and those of structs that it embeds.
func (p *plan) members(t reflect.Type, at []int, depth int) bool {
	for i := range t.NumField() {
		f := t.Field(i)
		name, option, _ := strings.Cut(f.Tag.Get("json"), ",")
		here := slices.Concat(at, f.Index)
		switch {
		// As encoding/json has it: a dash alone leaves a field out.
		case name == "-" && option == "":
			continue
		// The members of an embedded struct stand among those of the outer one. What encoding/json does
		// beyond that is left to it.
		case f.Anonymous && name == "":
			if f.Type.Kind() != reflect.Struct || !f.IsExported() || reflect.PointerTo(f.Type).Implements(readsItself) {
				return false
			}
			if !p.members(f.Type, here, depth+1) {
				return false
			}
			continue
		case !f.IsExported():
			continue
		case option != "" && option != "omitempty" && option != "omitzero":
			return false
		case name == "":
			name = f.Name
		}
		of := planOf(f.Type, depth+1)
		// The name must stand in the bytes as it is written here, without an escape.
		if of == nil || strings.ContainsFunc(name, func(r rune) bool { return r >= 0x80 || r < ' ' || r == '"' || r == '\\' }) {
			return false
		}
		p.fields = append(p.fields, field{name, here, of})
	}
	return true
}

// read puts the next value into v. False leaves v in no known state.
func (p *plan) read(c *cursor, v reflect.Value) bool {
	switch p.kind {
	case reflect.String:
		text, ok := c.quoted()
		v.SetString(string(text))
		return ok
	case reflect.Bool:
		yes := c.word("true")
		v.SetBool(yes)
		return yes || c.word("false")
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		n, ok := c.integer()
		if !ok || v.OverflowInt(n) {
			return false
		}
		v.SetInt(n)
		return true
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		n, ok := c.integer()
		if !ok || n < 0 || v.OverflowUint(uint64(n)) {
			return false
		}
		v.SetUint(uint64(n))
		return true
	case reflect.Struct:
		return p.readObject(c, v)
	}
	if c.word("null") {
		return true // v is zero: it was made for this
	}
	switch p.kind {
	case reflect.Pointer:
		v.Set(reflect.New(p.elem))
		return p.of.read(c, v.Elem())
	case reflect.Slice:
		return p.readList(c, v)
	default:
		return p.readMap(c, v)
	}
}

// readObject reads members in the order of their names; one may be missing.
func (p *plan) readObject(c *cursor, v reflect.Value) bool {
	next := 0
	return c.is('{') && c.members('}', func() bool {
		name, ok := c.quoted()
		if !ok || !c.take(':') {
			return false
		}
		for next < len(p.fields) && p.fields[next].name != string(name) {
			next++
		}
		if next == len(p.fields) {
			return false
		}
		f := &p.fields[next]
		next++
		if len(f.at) == 1 {
			return f.plan.read(c, v.Field(f.at[0]))
		}
		return f.plan.read(c, v.FieldByIndex(f.at))
	})
}

func (p *plan) readList(c *cursor, v reflect.Value) bool {
	v.Set(reflect.MakeSlice(v.Type(), 0, 0))
	return c.is('[') && c.members(']', func() bool {
		n := v.Len()
		v.Grow(1)
		v.SetLen(n + 1)
		return p.of.read(c, v.Index(n))
	})
}

func (p *plan) readMap(c *cursor, v reflect.Value) bool {
	v.Set(reflect.MakeMap(v.Type()))
	return c.is('{') && c.members('}', func() bool {
		name, ok := c.quoted()
		if !ok || !c.take(':') {
			return false
		}
		key, value := reflect.New(p.key).Elem(), reflect.New(p.elem).Elem()
		key.SetString(string(name))
		if !p.of.read(c, value) {
			return false
		}
		v.SetMapIndex(key, value)
		return true
	})
}
