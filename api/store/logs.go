package store

import (
	"context"
	"strings"

	"benchmeet/domain/journal"
)

// Stream names a log: a club and, within it, "club" or "meet/ID".
type Stream struct {
	Club string
	Name string
}

// ClubStream is the stream of the club itself.
func ClubStream(club string) Stream { return Stream{Club: club, Name: "club"} }

// MeetStream is the stream of one meet of the club.
func MeetStream(club, meet string) Stream { return Stream{Club: club, Name: "meet/" + meet} }

// String is the name that stands in envelopes: "CLUB/club" or "CLUB/meet/ID".
func (s Stream) String() string { return s.Club + "/" + s.Name }

// Meet is the meet's id, and whether the stream is a meet's.
func (s Stream) Meet() (string, bool) { return strings.CutPrefix(s.Name, "meet/") }

// Logs are the event streams.
type Logs interface {
	// Write runs fn in a transaction that holds the stream's lock, and commits
	// when fn returns nil. If fn fails, or the commit does, nothing is kept and
	// the error is returned as it is. fn may be run once only.
	Write(ctx context.Context, s Stream, fn func(Tx) error) error
	// Read calls each with every record after seq, in order, as of one moment.
	// An error of each ends the reading and is returned.
	Read(ctx context.Context, s Stream, after int64, each func(journal.Record) error) error
	// Streams lists the club's streams with their heads, by name. A stream is
	// there from its first record on.
	Streams(ctx context.Context, club string) ([]StreamHead, error)
	// Changes tells of streams that any process may have written to, until ctx
	// is done; then the channel is closed. A notice may be lost or come twice:
	// listeners also look now and then by themselves. A store that only one
	// process can open may never send one.
	Changes(ctx context.Context) (<-chan Stream, error)
}

// StreamHead is a stream with its newest record's place and hash.
type StreamHead struct {
	Stream Stream
	Head   journal.Head
}

// Tx is what may be done inside Write. It is valid until Write's fn returns and
// must not be used from two goroutines at once.
type Tx interface {
	// Read calls each with every record after seq, in order.
	Read(ctx context.Context, after int64, each func(journal.Record) error) error
	// Answers looks up remembered answers of the stream by command id. Ids
	// without one are missing from the map.
	Answers(ctx context.Context, commands []string) (map[string]Answer, error)
	// Append adds records right after the stream's last one. A seq that is
	// there already is ErrConflict.
	Append(ctx context.Context, records []journal.Record) error
	// Remember keeps answers, each under its own command id.
	Remember(ctx context.Context, answers []Answer) error
	// PutPerson writes a person of the stream's club, replacing the old row. An
	// erased id is ErrErased.
	PutPerson(ctx context.Context, p Person) error
	// PutText keeps a free text of the stream's club with its salt. One that was
	// erased, or is about somebody who was, is ErrErased; another one under its id
	// is ErrConflict.
	PutText(ctx context.Context, t Text) error
}

// Answer is the outcome of a command that was carried out, kept so that a
// retry gets the same words. It holds no name of a person.
type Answer struct {
	Command string   // the command's id
	Content [32]byte // keyed hash of the command's content
	Body    []byte   // what the caller was answered, JSON
}
