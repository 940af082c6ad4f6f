package journal

import "unicode/utf8"

// cursor reads canonical JSON from left to right, without blanks and escapes: the
// form in which all but a few records stand. Its methods say false for anything
// else, sound or not; encoding/json then reads the whole once more and judges it.
type cursor struct {
	text []byte
	at   int
}

// over says that nothing is left.
func (c *cursor) over() bool { return c.at == len(c.text) }

// take steps over a byte if it is the next.
func (c *cursor) take(b byte) bool {
	if c.at < len(c.text) && c.text[c.at] == b {
		c.at++
		return true
	}
	return false
}

// is says whether a byte is the next.
func (c *cursor) is(b byte) bool { return c.at < len(c.text) && c.text[c.at] == b }

// word steps over a text if it stands next.
func (c *cursor) word(w string) bool {
	if len(c.text)-c.at >= len(w) && string(c.text[c.at:c.at+len(w)]) == w {
		c.at += len(w)
		return true
	}
	return false
}

// quoted steps over a string and gives what is between its quotes. It shares the
// memory of the text.
func (c *cursor) quoted() ([]byte, bool) {
	if !c.take('"') {
		return nil, false
	}
	ascii := true
	for i, b := range c.text[c.at:] {
		switch {
		case b == '"':
			out := c.text[c.at : c.at+i]
			c.at += i + 1
			return out, ascii || utf8.Valid(out)
		case b == '\\' || b < ' ':
			return nil, false
		case b >= utf8.RuneSelf:
			ascii = false
		}
	}
	return nil, false
}

// integer steps over a whole number within ±MaxInteger, as events hold them.
func (c *cursor) integer() (int64, bool) {
	minus := c.take('-')
	began, n := c.at, int64(0)
	for c.at < len(c.text) && c.text[c.at] >= '0' && c.text[c.at] <= '9' {
		if n > MaxInteger/10 {
			return 0, false
		}
		n = 10*n + int64(c.text[c.at]-'0')
		c.at++
	}
	digits := c.at - began
	if digits == 0 || n > MaxInteger || c.text[began] == '0' && (digits > 1 || minus) {
		return 0, false // also a number that goes on behind its digits: no comma or bracket follows
	}
	if minus {
		n = -n
	}
	return n, true
}

// deepest bounds how far values are nested where they are read here.
const deepest = 64

// skip steps over any value.
func (c *cursor) skip(depth int) bool {
	if c.over() || depth > deepest {
		return false
	}
	switch b := c.text[c.at]; b {
	case '"':
		_, ok := c.quoted()
		return ok
	case 't':
		return c.word("true")
	case 'f':
		return c.word("false")
	case 'n':
		return c.word("null")
	case '{':
		return c.members('}', func() bool {
			_, ok := c.quoted()
			return ok && c.take(':') && c.skip(depth+1)
		})
	case '[':
		return c.members(']', func() bool { return c.skip(depth + 1) })
	}
	_, ok := c.integer()
	return ok
}

// members steps over an object or a list, which begins here and ends with a
// bracket, by stepping over each of its members.
func (c *cursor) members(end byte, each func() bool) bool {
	c.at++
	if c.take(end) {
		return true
	}
	for each() {
		if c.take(end) {
			return true
		}
		if !c.take(',') {
			return false
		}
	}
	return false
}
