// Package compact writes structs in few bytes and reads them back several times
// quicker than JSON: integers as variable-length numbers, texts with their length
// in front, fields in the order of the type. Nothing in the bytes says what they
// are, so it is for caches alone, whose readers know by which version of the
// program they were written. The same value gives the same bytes everywhere.
package compact

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"reflect"
)

// ErrNotCompact is wrapped by Read's error for bytes that Append did not write.
var ErrNotCompact = errors.New("these bytes were not written for this type")

// Append writes v behind b. It takes structs, pointers, slices, texts, truth values
// and whole numbers; another kind is a fault of the program and panics. Fields
// that are not exported are left out.
func Append[T any](b []byte, v *T) []byte { return put(b, reflect.ValueOf(v).Elem()) }

// Reader reads what Append wrote, value for value. Short texts that come again and
// again share their memory.
type Reader struct {
	left  []byte
	short map[string]string
}

// NewReader reads b, which must not change meanwhile.
func NewReader(b []byte) *Reader { return &Reader{left: b, short: map[string]string{}} }

// Over says that everything was read.
func (r *Reader) Over() bool { return len(r.left) == 0 }

// Read reads the next value into v, which must be zero. Where it fails, nothing
// that follows can be read either.
func Read[T any](r *Reader, v *T) error {
	if err := r.get(reflect.ValueOf(v).Elem()); err != nil {
		return fmt.Errorf("%w: %w", ErrNotCompact, err)
	}
	return nil
}

func put(b []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.String:
		return append(binary.AppendUvarint(b, uint64(v.Len())), v.String()...)
	case reflect.Bool:
		if v.Bool() {
			return append(b, 1)
		}
		return append(b, 0)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return binary.AppendVarint(b, v.Int())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return binary.AppendUvarint(b, v.Uint())
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				b = put(b, v.Field(i))
			}
		}
		return b
	case reflect.Pointer:
		if v.IsNil() {
			return append(b, 0)
		}
		return put(append(b, 1), v.Elem())
	case reflect.Slice:
		if v.IsNil() {
			return append(b, 0)
		}
		// One more than the length, since 0 is nil: an empty list comes back as an empty list.
		b = binary.AppendUvarint(b, uint64(v.Len())+1)
		for i := range v.Len() {
			b = put(b, v.Index(i))
		}
		return b
	}
	// No input leads here, only a type that somebody gave a new field.
	panic(fmt.Sprintf("compact: %s cannot be written", v.Type()))
}

var errCut = errors.New("they end too early")

func (r *Reader) get(v reflect.Value) error {
	switch v.Kind() {
	case reflect.String:
		text, err := r.text()
		v.SetString(text)
		return err
	case reflect.Bool:
		yes, err := r.yes()
		v.SetBool(yes)
		return err
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		// The kinds are those of put, one for one. A number that does not fit was written for another
		// type, and would be cut off without a word.
		n, size := binary.Varint(r.left)
		if size <= 0 || v.OverflowInt(n) {
			return errCut
		}
		r.left = r.left[size:]
		v.SetInt(n)
		return nil
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		n, err := r.number()
		if err != nil || v.OverflowUint(n) {
			return errCut
		}
		v.SetUint(n)
		return nil
	case reflect.Struct:
		return r.getFields(v)
	case reflect.Pointer:
		there, err := r.yes()
		if err != nil || !there {
			return err
		}
		v.Set(reflect.New(v.Type().Elem()))
		return r.get(v.Elem())
	case reflect.Slice:
		return r.getList(v)
	}
	return fmt.Errorf("%s cannot be read", v.Type())
}

func (r *Reader) getFields(v reflect.Value) error {
	for i := range v.NumField() {
		f := v.Field(i)
		if !f.CanSet() {
			continue
		}
		if err := r.get(f); err != nil {
			return err
		}
	}
	return nil
}

func (r *Reader) getList(v reflect.Value) error {
	n, err := r.number()
	if err != nil || n == 0 {
		return err
	}
	if n-1 > uint64(len(r.left)) {
		return errCut // every element takes a byte or more
	}
	v.Set(reflect.MakeSlice(v.Type(), int(n-1), int(n-1)))
	for i := range v.Len() {
		if err := r.get(v.Index(i)); err != nil {
			return err
		}
	}
	return nil
}

func (r *Reader) number() (uint64, error) {
	n, size := binary.Uvarint(r.left)
	if size <= 0 {
		return 0, errCut
	}
	r.left = r.left[size:]
	return n, nil
}

func (r *Reader) yes() (bool, error) {
	if len(r.left) == 0 || r.left[0] > 1 {
		return false, errCut
	}
	yes := r.left[0] == 1
	r.left = r.left[1:]
	return yes, nil
}

// shortText is up to which length in bytes texts share their memory: names of
// benches, cars, methods and boots, not those of runs.
const shortText = 24

func (r *Reader) text() (string, error) {
	n, err := r.number()
	if err != nil || n > math.MaxInt32 || int(n) > len(r.left) {
		return "", errCut
	}
	text := r.left[:n]
	r.left = r.left[n:]
	if n > shortText {
		return string(text), nil
	}
	known, there := r.short[string(text)]
	if !there {
		known = string(text)
		r.short[known] = known
	}
	return known, nil
}
