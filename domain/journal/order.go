package journal

import (
	"bytes"
	"slices"
	"unicode/utf8"
)

// usualMembers is how many members most objects have at most.
const usualMembers = 16

// named is a member of an object in a text: where it begins, where its name ends, and where
// it ends. The name begins behind a quotation mark.
type named struct{ from, name, to int }

// inOrder steps over a value and appends it in the form of RFC 8785, the members of its
// objects in the order of their names. It says false for whatever a cursor does not read,
// for a name that is there twice, and for one beyond ASCII, whose place in the order its
// bytes do not tell (section 3.2.3 goes by UTF-16).
func (c *cursor) inOrder(out []byte, depth int) ([]byte, bool) {
	switch {
	case depth > deepest:
		return out, false
	case c.is('{'):
		return c.objectInOrder(out, depth)
	case c.is('['):
		return c.listInOrder(out, depth)
	}
	began := c.at
	if !c.skip(depth) {
		return out, false
	}
	return append(out, c.text[began:c.at]...), true
}

func (c *cursor) listInOrder(out []byte, depth int) ([]byte, bool) {
	began := len(out)
	ok := c.members(']', func() (ok bool) {
		out = append(out, ',') // in front of the first it becomes the bracket
		out, ok = c.inOrder(out, depth+1)
		return ok
	})
	return enclosed(out, began, '[', ']'), ok
}

func (c *cursor) objectInOrder(out []byte, depth int) ([]byte, bool) {
	var room [usualMembers]named
	members, began, ordered := room[:0], len(out), true
	ok := c.members('}', func() bool {
		name, ok := c.quoted()
		if !ok || !c.take(':') || slices.ContainsFunc(name, func(b byte) bool { return b >= utf8.RuneSelf }) {
			return false
		}
		out = append(out, ',', '"')
		m := named{from: len(out) - 1}
		out = append(out, name...)
		m.name = len(out)
		out = append(out, '"', ':')
		if n := len(members); n > 0 {
			ordered = ordered && bytes.Compare(members[n-1].of(out), name) < 0
		}
		if out, ok = c.inOrder(out, depth+1); !ok {
			return false
		}
		m.to = len(out)
		members = append(members, m)
		return true
	})
	if !ok {
		return out, false
	}
	if !ordered && !putInOrder(out, began, members) {
		return out, false
	}
	return enclosed(out, began, '{', '}'), true
}

// of is the name of a member.
func (m named) of(text []byte) []byte { return text[m.from+1 : m.name] }

// putInOrder writes the members that end a text once more, by their names; false where two
// have the same.
func putInOrder(out []byte, began int, members []named) bool {
	as := bytes.Clone(out[began:])
	for i := range members {
		members[i].from, members[i].name, members[i].to = members[i].from-began, members[i].name-began, members[i].to-began
	}
	slices.SortFunc(members, func(a, b named) int { return bytes.Compare(a.of(as), b.of(as)) })
	to := out[:began]
	for i, m := range members {
		if i > 0 && bytes.Equal(members[i-1].of(as), m.of(as)) {
			return false
		}
		to = append(append(to, ','), as[m.from:m.to]...)
	}
	return true
}

// enclosed puts brackets around what was appended, each member behind a comma.
func enclosed(out []byte, began int, open, end byte) []byte {
	if len(out) == began {
		return append(out, open, end)
	}
	out[began] = open
	return append(out, end)
}
