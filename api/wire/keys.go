package wire

import (
	"encoding/json"
	"errors"
	"fmt"
	"unicode/utf8"
)

// ErrTwice is returned for an object of JSON that has a name twice: readers do not agree
// which of the two counts.
var ErrTwice = errors.New("the name stands twice")

// Names goes through the names of all objects in a JSON text that is valid, in their
// order, each with those around it and dots in between ("last.stamps"); what stands in a
// list has the name of the list. A name that stands twice in one object, however it is
// escaped, ends it with a NameError, and so does an error of see. It costs a look at each
// byte.
func Names(text []byte, see func(path string) error) error {
	s := scan{text: text, see: see}
	return s.value("")
}

// NameError is an error about a name.
type NameError struct {
	Path string
	Err  error
}

// Error names it.
func (e *NameError) Error() string { return Short(e.Path) + ": " + e.Err.Error() }

// Unwrap is the error alone.
func (e *NameError) Unwrap() error { return e.Err }

// longest is how much of somebody's text an answer repeats, in characters.
const longest = 60

// Short is a text as an answer repeats it: of a long one the beginning.
func Short(text string) string {
	if utf8.RuneCountInString(text) <= longest {
		return text
	}
	return string([]rune(text)[:longest-1]) + "…"
}

// scan is where the reading of a text stands.
type scan struct {
	text []byte
	at   int
	see  func(path string) error
}

func (s *scan) value(path string) error {
	s.blanks()
	switch s.next() {
	case '{':
		return s.object(path)
	case '[':
		return s.list(path)
	case '"':
		s.word()
	default: // a number, true, false or null
		for s.at < len(s.text) {
			switch s.text[s.at] {
			case ',', ']', '}', ' ', '\t', '\r', '\n':
				return nil
			}
			s.at++
		}
	}
	return nil
}

func (s *scan) object(path string) error {
	seen := map[string]struct{}{}
	for s.at++; ; s.at++ {
		if s.blanks(); s.next() == '}' {
			break
		}
		name := s.word()
		full := name
		if path != "" {
			full = path + "." + name
		}
		if _, twice := seen[name]; twice {
			return &NameError{full, ErrTwice}
		}
		seen[name] = struct{}{}
		if err := s.see(full); err != nil {
			return &NameError{full, err}
		}
		s.blanks()
		s.at++ // the colon
		if err := s.value(full); err != nil {
			return err
		}
		if s.blanks(); s.next() != ',' {
			break
		}
	}
	s.at++
	return nil
}

func (s *scan) list(path string) error {
	for s.at++; ; s.at++ {
		if s.blanks(); s.next() == ']' {
			break
		}
		if err := s.value(path); err != nil {
			return err
		}
		if s.blanks(); s.next() != ',' {
			break
		}
	}
	s.at++
	return nil
}

// word reads a string.
func (s *scan) word() string {
	from, escaped := s.at, false
	for s.at++; s.next() != '"' && s.at < len(s.text); s.at++ {
		if s.text[s.at] == '\\' {
			escaped = true
			s.at++
		}
	}
	s.at++
	// What is no UTF-8 is another name to readers: encoding/json puts U+FFFD in its place.
	if !escaped && utf8.Valid(s.text[from:s.at]) {
		return string(s.text[from+1 : s.at-1])
	}
	var word string
	if err := json.Unmarshal(s.text[from:s.at], &word); err != nil {
		panic(fmt.Sprintf("a string of valid JSON is none: %v", err))
	}
	return word
}

func (s *scan) blanks() {
	for s.at < len(s.text) {
		switch s.text[s.at] {
		case ' ', '\t', '\r', '\n':
			s.at++
		default:
			return
		}
	}
}

// next is the byte at which the reading stands, 0 behind the end.
func (s *scan) next() byte {
	if s.at < len(s.text) {
		return s.text[s.at]
	}
	return 0
}
