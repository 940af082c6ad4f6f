package archive

import (
	"net/url"
	"strings"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// Format and Version name the form of the file. The version is raised whenever an
// older program would read a newer file wrongly.
const (
	Format  = "benchmeet-archive"
	Version = 2
)

// Manifest says what is in an archive.
type Manifest struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	Club    Club   `json:"club"`
	// Meet is set where the archive holds one meet and not the whole club.
	Meet string    `json:"meet,omitempty"`
	Made time.Time `json:"made"`
	// Expires is when the file is to be deleted: it may hold names that are
	// erased later.
	Expires time.Time `json:"expires"`
	// People says whether people and texts are in it; otherwise start numbers
	// stand for names.
	People  bool     `json:"people"`
	Streams []Stream `json:"streams"`
	Counts  Counts   `json:"counts"`
}

// Club is the club that the data belongs to.
type Club struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Stream is a log with its head.
type Stream struct {
	Stream string `json:"stream"` // as in the envelopes, "CLUB/club" or "CLUB/meet/ID"
	Events int64  `json:"events"`
	Head   string `json:"head"` // hash of the last event
}

// Counts are how many of each thing are in the file.
type Counts struct {
	Events   int64 `json:"events"`
	Runs     int64 `json:"runs"`
	Chunks   int64 `json:"chunks"`
	Late     int64 `json:"late_chunks,omitempty"` // beside Chunks
	People   int64 `json:"people"`
	Texts    int64 `json:"texts"`
	Erasures int64 `json:"erasures"`
}

// Files of an archive.
const (
	readmeFile   = "README.txt"
	manifestFile = "manifest.json"
	peopleFile   = "people.ndjson"
	textsFile    = "texts.ndjson"
	erasuresFile = "erasures.ndjson"
	traceFolder  = "traces/"
	lateFolder   = "late/"
	lineFile     = ".ndjson"
)

// streamFile is the name of a stream's file.
func streamFile(s store.Stream) string {
	if meet, is := s.Meet(); is {
		return "streams/meet/" + url.PathEscape(meet) + lineFile
	}
	return "streams/" + url.PathEscape(s.Name) + lineFile
}

// traceFile is the name of a run's file.
func traceFile(run store.RunKey) string {
	return traceFolder + url.PathEscape(run.Bench) + "/" + url.PathEscape(run.Boot) + "/" + url.PathEscape(run.Run) + lineFile
}

// lateFile is the name of the file of what came late for a run.
func lateFile(run store.RunKey) string {
	return lateFolder + strings.TrimPrefix(traceFile(run), traceFolder)
}

// runOf reads the name of a run's file.
func runOf(name string) (store.RunKey, bool) {
	rest, is := strings.CutPrefix(name, traceFolder)
	rest, ends := strings.CutSuffix(rest, lineFile)
	parts := strings.Split(rest, "/")
	if !is || !ends || len(parts) != 3 {
		return store.RunKey{}, false
	}
	for i, p := range parts {
		plain, err := url.PathUnescape(p)
		if err != nil || plain == "" {
			return store.RunKey{}, false
		}
		parts[i] = plain
	}
	run := store.RunKey{Bench: parts[0], Boot: parts[1], Run: parts[2]}
	return run, traceFile(run) == name // one run, one name
}

// head reads a stream of the manifest.
func (s Stream) head(club string) (store.StreamHead, error) {
	name, is := strings.CutPrefix(s.Stream, club+"/")
	if !is || name == "" {
		return store.StreamHead{}, cannotRead("the manifest lists the stream %q, which is not of the club %q", s.Stream, club)
	}
	hash, err := journal.ParseHash(s.Head)
	if err != nil || s.Events < 1 {
		return store.StreamHead{}, cannotRead("the manifest's head of the stream %s cannot be read", s.Stream)
	}
	return store.StreamHead{
		Stream: store.Stream{Club: club, Name: name},
		Head:   journal.Head{Seq: s.Events, Hash: hash},
	}, nil
}

func streamOf(h store.StreamHead) Stream {
	return Stream{Stream: h.Stream.String(), Events: h.Head.Seq, Head: h.Head.Hash.String()}
}

// readme explains the file to whoever finds it.
const readme = `This is an archive of a Benchmeet club: race days on roller benches.

It may hold names and birth dates of children (people.ndjson, texts.ndjson).
Keep it as you would keep the entry list, and delete it when manifest.json says
that it expires. Who was erased after it was made is still in it.

manifest.json         what is in the file
streams/*.ndjson      the logs, one event a line: {"seq":..,"hash":..,"event":{..}}
traces/BENCH/BOOT/RUN.ndjson
                      what a bench sent of one run, one chunk a line
late/BENCH/BOOT/RUN.ndjson
                      chunks that came for a run after it was recorded; it is not
                      made of them
people.ndjson         who stands behind the ids (may be left out)
texts.ndjson          free texts of rulings with their salts (may be left out)
erasures.ndjson       ids of people and texts that were erased: an import erases
                      them too

To check a log: start with 32 zero bytes. For each line, take the bytes of the
event exactly as they stand behind "event": up to the line's last brace, and
compute SHA-256(hash before, bytes). It is the line's hash, and the last one is
the head in manifest.json. Published results print it.

To read stamps: "packed" is base64 of differences between stamps in microseconds
(the first from 0), each an unsigned LEB128 number: seven bits a byte, the lowest
first, the top bit set on all bytes but the last. The chunks in order give the
whole run. The "trace" in its event is the SHA-256 of the JSON object with bench,
boot, run, stamps_us and totals ("last" of the last chunk), in this order and
without blanks.

A text belongs to its event when SHA-256(salt, text) is the event's text_hash;
salts are base64.
`
