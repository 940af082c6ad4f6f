package fairness

import (
	"fmt"
	"strings"
)

// NoteCode names a sentence of a report.
type NoteCode string

// Note is a sentence as a code with named arguments, so that a screen can show
// it in its own language.
type Note struct {
	Code NoteCode  `json:"code"`
	Args []NoteArg `json:"args,omitempty"`
}

// NoteArg is one named value of a sentence.
type NoteArg struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// note makes a note from a code and pairs of name and value.
func note(code NoteCode, pairs ...any) Note {
	n := Note{Code: code}
	for i := 0; i+1 < len(pairs); i += 2 {
		n.Args = append(n.Args, NoteArg{fmt.Sprint(pairs[i]), fmt.Sprint(pairs[i+1])})
	}
	return n
}

// Says returns the English sentence. A code from a later version, which the
// catalogue does not hold, is returned as it is.
func (n Note) Says() string {
	sentence, there := notes[n.Code]
	if !there {
		return string(n.Code)
	}
	pairs := make([]string, 0, 2*len(n.Args))
	for _, a := range n.Args {
		pairs = append(pairs, "{"+a.Name+"}", a.Value)
	}
	return strings.NewReplacer(pairs...).Replace(sentence)
}

// Join returns the English sentences one after the other.
func Join(list []Note) string {
	says := make([]string, len(list))
	for i, n := range list {
		says[i] = n.Says()
	}
	return strings.Join(says, " ")
}

// percent writes a relative figure in per cent, without its sign, to two digits
// that count.
func percent(relative float64) string {
	if relative < 0 {
		relative = -relative
	}
	p := 100 * relative
	switch {
	case p >= 9.95:
		return fmt.Sprintf("%.0f", p)
	case p >= 0.995:
		return fmt.Sprintf("%.1f", p)
	}
	return fmt.Sprintf("%.2f", p)
}
