package store

import "context"

// People are the rows that may be erased: who stands behind the ids of the
// logs, and the free texts whose salted hashes the logs hold.
type People interface {
	// Person returns a person, or ErrNotFound (also after erasure).
	Person(ctx context.Context, club, id string) (Person, error)
	// AllPeople returns the club's people in the order of their ids.
	AllPeople(ctx context.Context, club string) ([]Person, error)
	// Text returns a free text, or ErrNotFound (also after erasure).
	Text(ctx context.Context, club, id string) (Text, error)
	// AllTexts returns the club's free texts in the order of their ids.
	AllTexts(ctx context.Context, club string) ([]Text, error)
	// Erase removes a person's row and all texts about that person, salts
	// included, notes the id as erased, and has the database overwrite the
	// space. Erasing again, or an unknown id, only notes the id. It may take
	// seconds on a large database.
	Erase(ctx context.Context, club, person string, atUS int64) error
	// Erasures lists the erased ids in order; import and restore apply them
	// again.
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
	ID    string `json:"id"`
	About string `json:"about,omitempty"` // the person whom it is about; erased with that person
	Salt  []byte `json:"salt"`
	Text  string `json:"text"`
}

// Erasure notes that a person was erased.
type Erasure struct {
	Person string `json:"person"`
	AtUS   int64  `json:"at_us"` // µs since 1970-01-01 UTC
}
