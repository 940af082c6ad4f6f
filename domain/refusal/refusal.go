// Package refusal is how the domain says no: a code for machines, arguments,
// and a sentence for people that tells them what to do.
//
// The sentences live in a catalogue, one file a language, so that a screen can
// show them in its own; Error prints English. The package does not know which
// HTTP status a code has; api/rest keeps that table.
package refusal

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
)

// Code names a refusal; it is part of the API and never changes its meaning.
type Code string

// Refusal is a command that was understood and not carried out. Nothing changed.
type Refusal struct {
	Code Code
	Args []Arg
}

// Arg is one named value of a refusal.
type Arg struct {
	Name  string
	Value string // for machines: an id stays one
	of    any    // the value as it was given, with its type
	name  Name   // what stands for Value in the sentence; empty where nobody named it
}

// Name is what a thing is called in a sentence.
type Name struct {
	Says string // in English, or as somebody named it
	// Parts are the same for another language, from the whole to the part; none where Says is
	// a number, or what somebody named it.
	Parts []Part
}

// Part is one part of what a thing is called: what it is, and its number or name ("round", "2").
type Part struct{ Code, Value string }

// New makes a refusal from a code and pairs of argument name and value. A
// missing value shows as "?", so that a wrong call is seen and does no harm.
func New(code Code, pairs ...any) *Refusal {
	r := &Refusal{Code: code}
	for i := 0; i < len(pairs); i += 2 {
		arg := Arg{Name: fmt.Sprint(pairs[i]), Value: "?"}
		if i+1 < len(pairs) {
			arg.of, arg.Value = pairs[i+1], fmt.Sprint(pairs[i+1])
		}
		r.Args = append(r.Args, arg)
	}
	return r
}

// Name lets the sentence say names where arguments are ids. It asks names for each value
// as it was given to New, with its type; a value that names does not know stays,
// and so does what was named before.
func (r *Refusal) Name(names func(value any) (name Name, known bool)) {
	for i, a := range r.Args {
		if name, known := names(a.of); known && a.name.Says == "" {
			r.Args[i].name = name
		}
	}
}

// Values are the arguments by their names, for machines. An argument that is a refusal itself,
// as the reason of another one, has its code under NAME_code and its arguments under NAME_ and
// theirs.
func (r *Refusal) Values() map[string]string {
	values := map[string]string{}
	for _, a := range r.Args {
		values[a.Name] = a.Value
		if inner, is := a.of.(*Refusal); is {
			values[a.Name+"_code"] = string(inner.Code)
			for name, value := range inner.Values() {
				values[a.Name+"_"+name] = value
			}
		}
	}
	return values
}

// Names are what the arguments are called that somebody named, by the names of the arguments.
func (r *Refusal) Names() map[string]Name {
	names := map[string]Name{}
	for _, a := range r.Args {
		if a.name.Says != "" {
			names[a.Name] = a.name
		}
	}
	return names
}

// Error is the English sentence.
func (r *Refusal) Error() string {
	sentence, there := english[r.Code]
	if !there {
		sentence = string(r.Code)
	}
	// By hand: a replacer is made anew for each refusal, and takes longer than what a rule decides.
	var out strings.Builder
	for {
		plain, after, opened := strings.Cut(sentence, "{")
		name, rest, closed := strings.Cut(after, "}")
		if !opened || !closed {
			out.WriteString(sentence)
			return out.String()
		}
		out.WriteString(plain)
		out.WriteString(r.says(name))
		sentence = rest
	}
}

// says is what stands in a sentence for an argument; its name in braces where there is none.
func (r *Refusal) says(name string) string {
	for _, a := range r.Args {
		if a.Name == name {
			return cmp.Or(a.name.Says, a.Value)
		}
	}
	return "{" + name + "}"
}

// As finds a refusal in an error's chain.
func As(err error) (*Refusal, bool) {
	var r *Refusal
	ok := errors.As(err, &r)
	return r, ok
}

// Codes lists every code that has a sentence, in no particular order.
func Codes() []Code {
	codes := make([]Code, 0, len(english))
	for c := range english {
		codes = append(codes, c)
	}
	return codes
}
