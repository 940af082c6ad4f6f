package sheet

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Decode reads one JSON document, refusing unknown fields by name and
// anything after the document; errors name the line or the field.
func Decode(text []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return explainJSON(text, d.InputOffset(), err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return fmt.Errorf("line %d: there is more after the end of the document; remove it", lineAt(text, d.InputOffset()))
	}
	return nil
}

// explainJSON turns a decoder's error into a sentence with the line.
func explainJSON(text []byte, offset int64, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("line %d: not JSON: %w", lineAt(text, syntax.Offset), err)
	case errors.As(err, &kind):
		field := kind.Field
		if field == "" {
			field = "the document"
		}
		return fmt.Errorf("line %d: %s cannot be a %s", lineAt(text, kind.Offset), field, kind.Value)
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the document ends too early; is the file complete?")
	}
	message := strings.TrimPrefix(err.Error(), "json: ")
	return fmt.Errorf("line %d: %s", lineAt(text, offset), message)
}

// lineAt is the 1-based line of a byte offset.
func lineAt(text []byte, offset int64) int {
	if offset > int64(len(text)) {
		offset = int64(len(text))
	}
	return 1 + bytes.Count(text[:offset], []byte("\n"))
}
