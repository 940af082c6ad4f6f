package store

import (
	"bytes"
	"context"
	"slices"
)

// People are the rows that may be erased: who stands behind the ids of the
// logs, and the free texts whose salted hashes the logs hold.
type People interface {
	// Person returns a person, or ErrNotFound (also after erasure).
	Person(ctx context.Context, club, id string) (Person, error)
	// AllPeople returns the club's people in the order of their ids.
	AllPeople(ctx context.Context, club string) ([]Person, error)
	// Text returns a free text, or ErrNotFound (also after erasure).
	Text(ctx context.Context, club, id string) (Text, error)
	// Texts returns those of these free texts that are there, in the order of their
	// ids. It costs a look for each id, however many texts the club has.
	Texts(ctx context.Context, club string, ids []string) ([]Text, error)
	// AllTexts returns the club's free texts in the order of their ids.
	AllTexts(ctx context.Context, club string) ([]Text, error)
	// Erase removes a person's row and all texts about that person, salts
	// included, and notes the id as erased: neither the row nor a text about the
	// person comes back. Erasing again, or an unknown id, only notes the id.
	// What was removed is still in the files until Overwrite.
	Erase(ctx context.Context, club, person string, atUS int64) error
	// EraseText removes one text with its salt and notes its id, as Erase does.
	EraseText(ctx context.Context, club, text string, atUS int64) error
	// Overwrite has the database overwrite the space of everything that was
	// erased, by whichever process, and not overwritten yet. It costs a look
	// where there is nothing to do, and may take seconds on a large database.
	// After an error, or a crash, the next call does it.
	Overwrite(ctx context.Context) error
	// Erasures lists what was erased, people by id and then texts by id; import
	// and restore apply them again.
	Erasures(ctx context.Context, club string) ([]Erasure, error)
}

// Person is what the day needs of somebody, and nothing more.
type Person struct {
	ID          string `json:"id"`
	Name        string `json:"name"`                 // for officials only
	DisplayName string `json:"display_name"`         // for public screens: a nickname; empty shows the start number
	SayAs       string `json:"say_as,omitempty"`     // how the caller says it
	BirthDate   string `json:"birth_date,omitempty"` // YYYY-MM-DD
	OnScreen    bool   `json:"on_screen"`            // guardian agrees to the display name on screens
	InResults   bool   `json:"in_results"`           // guardian agrees to the display name in published results
	Photo       bool   `json:"photo"`                // guardian agrees to photographs
}

// Text is a free text: a reason, a note.
type Text struct {
	ID string `json:"id"`
	// About are the people whom it is about, in order; it is erased with any of
	// them. An empty id among them says that there may be others: the text is of a
	// time when not all of them were noted.
	About []string `json:"about,omitempty"`
	Salt  []byte   `json:"salt"`
	Text  string   `json:"text"`
}

// Same says whether two texts are equal in everything.
func (t Text) Same(other Text) bool {
	return t.ID == other.ID && t.Text == other.Text && bytes.Equal(t.Salt, other.Salt) && slices.Equal(whom(t.About), whom(other.About))
}

// Sorted is the text with its people in order, each once.
func (t Text) Sorted() Text {
	t.About = whom(t.About)
	return t
}

func whom(about []string) []string { return slices.Compact(slices.Sorted(slices.Values(about))) }

// Erasure notes that a person, or a single text, was erased.
type Erasure struct {
	Person string `json:"person,omitempty"`
	Text   string `json:"text,omitempty"`
	AtUS   int64  `json:"at_us"` // µs since 1970-01-01 UTC
}
