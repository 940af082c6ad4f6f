package entrytable

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// Charset is how the bytes of a file stand for characters.
type Charset string

// The charsets that are read.
const (
	UTF8        Charset = "utf-8"
	Windows1252 Charset = "windows-1252"
)

// mark is the byte order mark that spreadsheets put before UTF-8.
const mark = "\uFEFF"

// undefined are the bytes that Windows-1252 has no character for.
const undefined = "\x81\x8d\x8f\x90\x9d"

// Decode makes text of a file, or says at which place it cannot. What is no valid UTF-8
// is read as Windows-1252, unless it says of itself that it is UTF-8 or looks like it:
// then a damaged character would become two wrong ones in a child's name.
func Decode(file []byte) (string, Charset, *Fault) {
	at := func(offset int, f Fault) (string, Charset, *Fault) {
		text := string(file)
		f.Line, f.Column = placeOf(text, offset, separatorOf(text))
		return "", UTF8, &f
	}
	marked := bytes.HasPrefix(file, []byte(mark))
	file = bytes.TrimPrefix(file, []byte(mark))
	switch {
	case len(bytes.TrimSpace(file)) == 0:
		return at(0, fault(1, 1, "table-empty"))
	case bytes.HasPrefix(file, []byte("PK\x03\x04")), bytes.HasPrefix(file, []byte("\xd0\xcf\x11\xe0")):
		return at(0, fault(1, 1, "table-workbook"))
	case wide(file):
		return at(0, fault(1, 1, "table-wide"))
	}
	if i := bytes.IndexFunc(file, control); i >= 0 {
		return at(i, fault(1, 1, "table-control", "byte", file[i]))
	}
	invalid := invalidAt(file)
	if invalid < 0 {
		if i := bytes.Index(file, []byte("\uFFFD")); i >= 0 {
			return at(i, fault(1, 1, "table-lost-character"))
		}
		return string(file), UTF8, nil
	}
	if marked || multibyte(file) {
		return at(invalid, fault(1, 1, "table-damaged"))
	}
	for i, b := range file {
		if strings.IndexByte(undefined, b) >= 0 {
			return at(i, fault(1, 1, "table-damaged"))
		}
	}
	var text strings.Builder
	for _, b := range file {
		text.WriteRune(charmap.Windows1252.DecodeByte(b))
	}
	return text.String(), Windows1252, nil
}

// wide says whether a file is UTF-16: by its mark, or because every other byte of its
// beginning is zero.
func wide(file []byte) bool {
	if bytes.HasPrefix(file, []byte("\xff\xfe")) || bytes.HasPrefix(file, []byte("\xfe\xff")) {
		return true
	}
	begin := file[:min(len(file), 64)&^1]
	zeros := [2]int{}
	for i, b := range begin {
		if b == 0 {
			zeros[i%2]++
		}
	}
	half := len(begin) / 2
	return half > 0 && (zeros[0] > half*3/4 && zeros[1] == 0 || zeros[1] > half*3/4 && zeros[0] == 0)
}

// control says of a character that no table has it.
func control(r rune) bool {
	return r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0x7f
}

// invalidAt is the first byte that belongs to no character of UTF-8, -1 for none.
func invalidAt(file []byte) int {
	for i := 0; i < len(file); {
		r, size := utf8.DecodeRune(file[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}

// multibyte says whether some character of a file is one of UTF-8 beyond ASCII.
func multibyte(file []byte) bool {
	for i := 0; i < len(file); {
		_, size := utf8.DecodeRune(file[i:])
		if size > 1 {
			return true
		}
		i += size
	}
	return false
}
