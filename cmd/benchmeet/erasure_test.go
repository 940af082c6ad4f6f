package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

// longest is how long a caller stays, in µs: about as long as an erasure takes.
func (c *hangUpClub) longest() int {
	if c.database != "" {
		return 600_000
	}
	return 150_000
}

// hangUps is how many callers ask for an erasure and go away.
const hangUps = 200

// TestProveErasureNeedsNoCaller: of people whose erasure was asked for by callers that
// hang up at once, while the server is killed in between, those that the log calls
// erased are gone soon after, from every page and from the files, and so are the texts
// about them.
func TestProveErasureNeedsNoCaller(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		count := hangUps
		if os.Getenv("BENCHMEET_PROVE") != "1" {
			count = hangUps / 4
		}
		v := newVictim(t, database)
		c := &hangUpClub{victim: v, count: count, data: v.args[4], database: database, words: []string{"Seegras"}}
		c.enter(t)
		if found := c.search(t); len(found) == 0 {
			t.Fatal("no word about the children is in any file before: this test would prove nothing")
		}

		// Each is asked for once, by four at a time; the server dies four times.
		rng := rand.New(rand.NewPCG(5, uint64(len(database))))
		var callers sync.WaitGroup
		next := make(chan int)
		for worker := range 4 {
			rng := rand.New(rand.NewPCG(6, uint64(worker)))
			callers.Go(func() {
				for n := range next {
					c.askAndHangUp(n, time.Duration(rng.IntN(c.longest()))*time.Microsecond)
				}
			})
		}
		for n := range count {
			if n%(count/5) == count/5-1 {
				time.Sleep(time.Duration(rng.IntN(20)) * time.Millisecond)
				v.kill()
				v.start()
			}
			next <- n
		}
		close(next)
		callers.Wait()

		// No restart from here on: the server finishes by itself.
		deadline := time.Now().Add(time.Minute)
		var noted, left int
		for {
			erased, people := c.noted(t), c.people(t)
			noted, left = len(erased), 0
			for _, p := range people {
				if erased[p] {
					left++
				}
			}
			if left == 0 || time.Now().After(deadline) {
				break
			}
			time.Sleep(200 * time.Millisecond)
		}
		t.Logf("%d of %d erasures were noted before their callers hung up or the server died", noted, count)
		if noted < count/4 {
			t.Errorf("only %d erasures were noted: this proves nothing", noted)
		}
		if left > 0 {
			t.Errorf("%d people whom the log calls erased are still there after a minute", left)
		}
		for n := range count { // the others, and once more those
			c.erase(t, n)
		}
		if people := c.people(t); len(people) > 0 {
			t.Errorf("%d people are left", len(people))
		}
		for _, path := range []string{"/api/v1/people", meetPath + "/entries", meetPath + "/rulings", meetPath + "/log", meetPath + "/heats"} {
			if body := c.send(t, "GET", path, ""); strings.Contains(body, "Seegras") {
				t.Errorf("%s still shows an erased child", path)
			}
		}
		if found := c.search(t); len(found) > 0 {
			t.Errorf("words about erased children are still in the files: %v", found)
		}
	})
}

// TestSweepFinishesWhatTheLogNotes: an erasure that only stands in the log, as a server
// leaves it that dies right after, is finished by one that runs: for its screens, its
// pages and its files.
func TestSweepFinishesWhatTheLogNotes(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		var entries gen.EntryList
		w.get(meetPath+"/entries", &entries)
		entrant := *entries.Entries[0].Entrant
		w.do(
			"POST", meetPath+"/rulings", `{"kind":"withdraw","entry":"`+entries.Entries[0].Id+`","reason":{"code":"family","text":"Nick 1 left"}}`,
		)
		f := w.listen(meetPath+"/live", "bracket/open")
		shows := func(_ int64, data json.RawMessage) bool { return strings.Contains(string(data), "Nick 1") }
		f.until("bracket/open", shows)
		_, err := w.server.clubs.Do(t.Context(), store.ClubStream("harbour"), ledger.Order[club.Command]{
			ID: "noted", Content: []byte("noted"), Actor: "o", Command: club.ErasePerson{Person: day.EntrantID(entrant)},
		})
		if err != nil {
			t.Fatal(err)
		}
		f.until("bracket/open", func(seq int64, data json.RawMessage) bool { return !shows(seq, data) })
		for end := time.Now().Add(20 * time.Second); ; time.Sleep(100 * time.Millisecond) {
			due := len((&hangUpClub{data: w.server.options.Data, database: database, words: []string{"Nick 1"}}).search(t))
			if due == 0 {
				break
			}
			if time.Now().After(end) {
				t.Fatalf("the words are still in %d files", due)
			}
		}
	})
}

// hangUpClub is a meet of children with a text about each.
type hangUpClub struct {
	victim   *victim
	count    int
	data     string
	database string
	words    []string // to search for beside the birth dates
	orders   int
	mu       sync.Mutex
}

func childID(n int) string { return fmt.Sprintf("p-%03d", n) }

// birth is a date that stands nowhere else.
func birth(n int) string {
	return time.Date(1912, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, 37*n).Format(time.DateOnly)
}

func (c *hangUpClub) enter(t *testing.T) {
	c.send(t, "POST", "/api/v1/meets", `{"id":"spring","plan":{"name":"Harbour Hall spring meet","date":"2027-04-17"}}`)
	c.send(t, "PUT", meetPath+"/divisions/open", `{"name":"Open","age_from":0,"age_to":0,
		"class":{"name":"Open class","lap_m":1},"stages":[{"kind":"knockout","race_s":10,"lanes":2}]}`)
	for n := range c.count {
		c.send(t, "PUT", "/api/v1/people/"+childID(n), fmt.Sprintf(
			`{"name":"Seegras Child %[1]d","display_name":"Nick-Seegras %[1]d","say_as":"SEE-%[1]d","birth_date":%[2]q,"on_screen":true,"in_results":true,"photo":false}`, n, birth(n)))
		c.send(t, "POST", meetPath+"/entries", fmt.Sprintf(`{"id":"e%d","division":"open","start_number":%d,"entrant":%q}`, n, n+1, childID(n)))
		c.send(
			t, "POST", meetPath+"/rulings",
			fmt.Sprintf(`{"kind":"withdraw","entry":"e%d","reason":{"code":"family","text":"The Seegras family left, text %d."}}`, n, n),
		)
	}
}

func (c *hangUpClub) request(method, path, body string) *http.Request {
	c.mu.Lock()
	c.orders++
	key := fmt.Sprintf("01890000-0000-7000-8000-%012d", c.orders)
	c.mu.Unlock()
	req, _ := http.NewRequest(method, c.victim.base+path, strings.NewReader(body)) // the parts are ours
	req.Header.Set("Authorization", "Bearer "+c.victim.secret)
	req.Header.Set("Idempotency-Key", key)
	if body != "" {
		req.Header.Set("Content-Type", "application/json")
	}
	return req
}

func (c *hangUpClub) send(t *testing.T, method, path, body string) string {
	t.Helper()
	res, err := http.DefaultClient.Do(c.request(method, path, body))
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode >= 300 {
		t.Fatalf("%s %s: %d %s %v", method, path, res.StatusCode, text, err)
	}
	return string(text)
}

// askAndHangUp writes a whole request and closes the connection after a moment.
func (c *hangUpClub) askAndHangUp(n int, after time.Duration) {
	conn, err := net.Dial("tcp", strings.TrimPrefix(c.victim.base, "http://"))
	if err != nil {
		return // the server is dead just now
	}
	defer conn.Close()
	if c.request("DELETE", "/api/v1/people/"+childID(n), "").Write(conn) != nil {
		return
	}
	time.Sleep(after)
}

func (c *hangUpClub) erase(t *testing.T, n int) {
	t.Helper()
	c.send(t, "DELETE", "/api/v1/people/"+childID(n), "")
}

func (c *hangUpClub) people(t *testing.T) (ids []string) {
	t.Helper()
	var list struct{ People []struct{ ID string } }
	if err := json.Unmarshal([]byte(c.send(t, "GET", "/api/v1/people", "")), &list); err != nil {
		t.Fatal(err)
	}
	for _, p := range list.People {
		ids = append(ids, p.ID)
	}
	return ids
}

// noted is whom the club's log calls erased.
func (c *hangUpClub) noted(t *testing.T) map[string]bool {
	t.Helper()
	s, err := place{Data: c.data, Database: c.database}.openToRead(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	clubs, err := s.Clubs(t.Context())
	if err != nil || len(clubs) != 1 {
		t.Fatal(clubs, err)
	}
	out := map[string]bool{}
	err = s.Read(t.Context(), store.ClubStream(clubs[0].ID), 0, func(r journal.Record) error {
		e, err := r.Open()
		if err != nil || e.Type != (club.PersonErased{}).Type() {
			return err
		}
		var gone club.PersonErased
		if err := json.Unmarshal(e.Data, &gone); err != nil {
			return err
		}
		out[string(gone.Person)] = true
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// search lists the words about the children that are in the data folder; for
// PostgreSQL in the files of its tables, after what it keeps in memory was written.
func (c *hangUpClub) search(t *testing.T) (found []string) {
	t.Helper()
	words := slices.Clone(c.words)
	for n := range c.count {
		words = append(words, birth(n))
	}
	folder := c.data
	if c.database != "" {
		if folder = pgtest.Folder(t); folder == "" {
			t.Skip("the database server is not ours: its files cannot be searched")
		}
		folder = filepath.Join(folder, "base")
		conn, err := pgx.Connect(t.Context(), c.database)
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = conn.Close(context.Background()) }()
		if _, err := conn.Exec(t.Context(), `CHECKPOINT`); err != nil {
			t.Fatal(err)
		}
		var oid uint32 // other tests have databases of their own beside it
		if err := conn.QueryRow(t.Context(), `SELECT oid FROM pg_database WHERE datname = current_database()`).Scan(&oid); err != nil {
			t.Fatal(err)
		}
		folder = filepath.Join(folder, fmt.Sprint(oid))
	}
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return nil //nolint:nilerr // a file of the database that went meanwhile
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return nil //nolint:nilerr // so did this one
		}
		for _, word := range words {
			if bytes.Contains(text, []byte(word)) {
				found = append(found, filepath.Base(path)+": "+word)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
