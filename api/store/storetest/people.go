package storetest

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"benchmeet/api/store"
)

func putPeople(t *testing.T, s store.Store, club string, people ...store.Person) {
	t.Helper()
	ctx := t.Context()
	must(t, s.Write(ctx, store.ClubStream(club), func(tx store.Tx) error {
		for _, p := range people {
			if err := tx.PutPerson(ctx, p); err != nil {
				return err
			}
		}
		return nil
	}))
}

func putTexts(t *testing.T, s store.Store, club string, texts ...store.Text) {
	t.Helper()
	ctx := t.Context()
	must(t, s.Write(ctx, store.ClubStream(club), func(tx store.Tx) error {
		for _, text := range texts {
			if err := tx.PutText(ctx, text); err != nil {
				return err
			}
		}
		return nil
	}))
}

func testPeople(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	otter := store.Person{
		ID: "p-otter", Name: "Ottilie Seeländer", DisplayName: "Otter 🦦", SayAs: "OT-ter",
		BirthDate: "2016-02-29", OnScreen: true, InResults: true, Photo: true,
	}
	heron := store.Person{ID: "P-heron", Name: "H. 'Heron' \"Reed\"", InResults: true}
	putPeople(t, s, harbour, otter, heron)
	putPeople(t, s, "quay", store.Person{ID: "p-otter", Name: "Somebody else"})
	got, err := s.Person(ctx, harbour, "p-otter")
	must(t, err)
	if diff := cmp.Diff(otter, got); diff != "" {
		t.Errorf("person (-want +got):\n%s", diff)
	}
	otter = store.Person{ID: "p-otter", Name: "Ottilie", Photo: true}
	putPeople(t, s, harbour, otter)
	all, err := s.AllPeople(ctx, harbour)
	must(t, err)
	if diff := cmp.Diff([]store.Person{heron, otter}, all); diff != "" {
		t.Errorf("people (-want +got):\n%s", diff)
	}
	_, err = s.Person(ctx, harbour, "p-nobody")
	wantError(t, "Person", err, store.ErrNotFound)
	_, err = s.Person(ctx, "quay", "P-heron")
	wantError(t, "Person of another club", err, store.ErrNotFound)
}

func testTexts(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	note := store.Text{ID: "t-note", About: []string{"p-heron", "p-otter"}, Salt: []byte{0, 1, 255}, Text: "The sensor slipped.\nWe saw it."}
	plain := store.Text{ID: "T-plain", Salt: []byte{9}}
	putTexts(t, s, harbour, note, plain)
	putTexts(t, s, harbour, note) // the same again is harmless
	unsorted := note
	unsorted.About = []string{"p-otter", "p-heron", "p-otter"}
	putTexts(t, s, harbour, unsorted) // and so is another order of the people
	got, err := s.Text(ctx, harbour, "t-note")
	must(t, err)
	if diff := cmp.Diff(note, got); diff != "" {
		t.Errorf("text (-want +got):\n%s", diff)
	}
	for name, other := range map[string]store.Text{
		"text":  {ID: "t-note", About: note.About, Salt: note.Salt, Text: "other"},
		"salt":  {ID: "t-note", About: note.About, Salt: []byte{1}, Text: note.Text},
		"about": {ID: "t-note", Salt: note.Salt, Text: note.Text},
		"fewer": {ID: "t-note", About: note.About[:1], Salt: note.Salt, Text: note.Text},
	} {
		wantError(t, "another "+name, s.Write(ctx, store.ClubStream(harbour), func(tx store.Tx) error {
			return tx.PutText(ctx, other)
		}), store.ErrConflict)
	}
	all, err := s.AllTexts(ctx, harbour)
	must(t, err)
	if diff := cmp.Diff([]store.Text{plain, note}, all); diff != "" {
		t.Errorf("texts (-want +got):\n%s", diff)
	}
	_, err = s.Text(ctx, harbour, "t-none")
	wantError(t, "Text", err, store.ErrNotFound)
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	putTexts(t, s, "quay", store.Text{ID: "t-note", Salt: []byte{7}, Text: "of another club"})
	many := make([]string, 5000)
	for i := range many {
		many[i] = fmt.Sprintf("t-%d", i)
	}
	for _, tt := range []struct {
		ids  []string
		want []store.Text
	}{
		{nil, nil},
		{[]string{""}, nil},
		{[]string{"t-note"}, []store.Text{note}},
		{[]string{"t-note", "t-none", "T-plain", "t-note"}, []store.Text{plain, note}},
		{slices.Concat(many, []string{"t-note", `a"b\'c`}), []store.Text{note}},
	} {
		got, err := s.Texts(ctx, harbour, tt.ids)
		must(t, err)
		if diff := cmp.Diff(tt.want, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%d texts by their ids (-want +got):\n%s", len(tt.ids), diff)
		}
	}
}

func testErase(t *testing.T, d Database) {
	open := d.New(t)
	ctx, s := t.Context(), opened(t, open)
	must(t, s.EnsureClub(ctx, store.Club{ID: harbour}))
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	heron := store.Person{ID: "p-heron", Name: "Heron"}
	elsewhere := store.Person{ID: "p-otter", Name: "An otter of another club"}
	about := store.Text{ID: "t1", About: []string{"p-otter"}, Salt: []byte{1}, Text: "about otter"}
	both := store.Text{ID: "t3", About: []string{"p-heron", "p-otter"}, Salt: []byte{3}, Text: "about otter and heron"}
	other := store.Text{ID: "t4", About: []string{"p-heron"}, Salt: []byte{4}, Text: "about heron"}
	alone := store.Text{ID: "t5", About: []string{"p-heron"}, Salt: []byte{5}, Text: "removed alone"}
	plain := store.Text{ID: "t2", Salt: []byte{2}, Text: "about nobody"}
	putPeople(t, s, harbour, store.Person{ID: "p-otter", Name: "Otter"}, heron)
	putPeople(t, s, "quay", elsewhere)
	putTexts(t, s, harbour, about, plain, both, other, alone)
	putTexts(t, s, "quay", about, alone)
	must(t, grow(ctx, s, store.ClubStream(harbour), 3, "stays"))

	must(t, s.Erase(ctx, harbour, "p-otter", 111))
	must(t, s.Erase(ctx, harbour, "p-otter", 222)) // the first time stays
	must(t, s.Erase(ctx, harbour, "p-never", 333))
	must(t, s.EraseText(ctx, harbour, "t5", 444))
	must(t, s.EraseText(ctx, harbour, "t5", 555))
	must(t, s.Overwrite(ctx))
	must(t, s.Overwrite(ctx)) // nothing is left to do

	check := func(s store.Store) {
		t.Helper()
		_, err := s.Person(ctx, harbour, "p-otter")
		wantError(t, "Person", err, store.ErrNotFound)
		if left, err := s.Texts(ctx, harbour, []string{"t1", "t2", "t3", "t5"}); err != nil || len(left) != 1 || left[0].ID != "t2" {
			t.Errorf("texts by their ids after erasing: %+v %v", left, err)
		}
		for _, id := range []string{"t1", "t3", "t5"} {
			_, err = s.Text(ctx, harbour, id)
			wantError(t, "Text "+id, err, store.ErrNotFound)
		}
		people, err := s.AllPeople(ctx, harbour)
		must(t, err)
		if diff := cmp.Diff([]store.Person{heron}, people); diff != "" {
			t.Errorf("people (-want +got):\n%s", diff)
		}
		texts, err := s.AllTexts(ctx, harbour)
		must(t, err)
		if diff := cmp.Diff([]store.Text{plain, other}, texts); diff != "" {
			t.Errorf("texts (-want +got):\n%s", diff)
		}
		erasures, err := s.Erasures(ctx, harbour)
		must(t, err)
		if diff := cmp.Diff(
			[]store.Erasure{{Person: "p-never", AtUS: 333}, {Person: "p-otter", AtUS: 111}, {Text: "t5", AtUS: 444}}, erasures,
		); diff != "" {
			t.Errorf("erasures (-want +got):\n%s", diff)
		}
		for _, id := range []string{"p-otter", "p-never"} {
			wantError(t, "PutPerson "+id, s.Write(ctx, store.ClubStream(harbour), func(tx store.Tx) error {
				return tx.PutPerson(ctx, store.Person{ID: id, Name: "back again"})
			}), store.ErrErased)
			wantError(t, "PutText about "+id, s.Write(ctx, store.ClubStream(harbour), func(tx store.Tx) error {
				return tx.PutText(ctx, store.Text{ID: "t-later", About: []string{"p-heron", id}, Text: "written later"})
			}), store.ErrErased)
		}
		for _, text := range []store.Text{about, both, alone} {
			wantError(t, "PutText "+text.ID, s.Write(ctx, store.ClubStream(harbour), func(tx store.Tx) error {
				return tx.PutText(ctx, text)
			}), store.ErrErased)
		}
		checkChain(t, s, store.ClubStream(harbour), 3)
		there, err := s.Person(ctx, "quay", "p-otter")
		must(t, err)
		if diff := cmp.Diff(elsewhere, there); diff != "" {
			t.Errorf("another club's person (-want +got):\n%s", diff)
		}
		for _, id := range []string{"t1", "t5"} {
			if _, err := s.Text(ctx, "quay", id); err != nil {
				t.Errorf("another club's text: %v", err)
			}
		}
		none, err := s.Erasures(ctx, "quay")
		must(t, err)
		if diff := cmp.Diff([]store.Erasure{}, none, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("another club's erasures (-want +got):\n%s", diff)
		}
	}
	check(s)
	must(t, s.Close())
	check(opened(t, open))
}
