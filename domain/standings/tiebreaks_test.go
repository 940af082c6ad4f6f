package standings

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Sensei's Library, page Sonneborn-Berger: two games each, 11, 9, 6 and 4.
func TestSonnebornBergerOfADoubleRoundRobin(t *testing.T) {
	var file struct {
		Case struct {
			Input    map[string]map[string]json.Number `json:"input"`
			Expected struct {
				Points  map[string]json.Number `json:"points"`
				SB      map[string]json.Number `json:"sonneborn_berger"`
				Ranking []string               `json:"ranking"`
			} `json:"expected"`
		} `json:"sb_double_round_robin"`
	}
	readJSON(t, "tiebreaks.json", &file)
	entries, results := crosstable(t, file.Case.Input)
	rows := rank(t, entries, results, PointsRules{Unplayed: AsPlayed, TieBreaks: []string{SonnebornBerger}})
	want := file.Case.Expected
	if diff := cmp.Diff(texts(t, want.Points), values(rows, "")); diff != "" {
		t.Errorf("points (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(texts(t, want.SB), values(rows, SonnebornBerger)); diff != "" {
		t.Errorf("Sonneborn-Berger (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(want.Ranking, order(rows)); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
	if rows[0].DecidedBy != SonnebornBerger {
		t.Errorf("A is before B by %q", rows[0].DecidedBy)
	}
}

// FIDE Arbiters Seminar, slides on tie-breaks: 1.5, 1 and 0.5 among three.
func TestDirectEncounterOfThree(t *testing.T) {
	var file struct {
		Case struct {
			Input    map[string]map[string]json.Number `json:"input"`
			Expected struct {
				Direct  map[string]json.Number `json:"direct_encounter"`
				Ranking []string               `json:"ranking"`
			} `json:"expected"`
		} `json:"direct_encounter_three"`
	}
	readJSON(t, "tiebreaks.json", &file)
	entries, results := crosstable(t, file.Case.Input)
	// Three level on points: each wins what it lacks against somebody outside.
	entries = append(entries, PointsEntry{ID: "Q1"}, PointsEntry{ID: "Q2"})
	results = append(results,
		Result{Round: 4, A: "P2", B: "Q1", APoints: Whole(1), Played: true},
		Result{Round: 4, A: "P3", B: "Q2", APoints: Half(1), BPoints: Half(1), Played: true},
	)
	rows := rank(t, entries, results, PointsRules{Unplayed: AsPlayed, TieBreaks: []string{Direct}})
	if diff := cmp.Diff(file.Case.Expected.Ranking, order(rows)[:3]); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
	got := values(rows, Direct)
	if diff := cmp.Diff(texts(t, file.Case.Expected.Direct), got); diff != "" {
		t.Errorf("direct encounter (-want +got):\n%s", diff)
	}
}

// FIDE Arbiters Seminar, slides on tie-breaks: running totals 1 2 3 4 5 6 6.5 7 7 sum up to 41.5; without the first
// 40.5 (derived).
func TestProgressive(t *testing.T) {
	var file struct {
		Case struct {
			Running  []json.Number `json:"input_running_totals"`
			Expected json.Number   `json:"expected"`
			Cut1     json.Number   `json:"derived_cut1"`
		} `json:"progressive"`
	}
	readJSON(t, "tiebreaks.json", &file)
	var results []Result
	before := Fraction{}
	for r, total := range file.Case.Running {
		now := dec(t, total)
		results = append(results, Result{Round: r + 1, A: "A", B: "B", APoints: now.Sub(before), Played: true})
		before = now
	}
	rows := rank(t, []PointsEntry{{ID: "A"}, {ID: "B"}}, results, PointsRules{TieBreaks: []string{Progressive, ProgressiveCut1}})
	if got, want := values(rows, Progressive)["A"], dec(t, file.Case.Expected).String(); got != want {
		t.Errorf("progressive %s, want %s", got, want)
	}
	if got, want := values(rows, ProgressiveCut1)["A"], dec(t, file.Case.Cut1).String(); got != want {
		t.Errorf("progressive without the first round %s, want %s", got, want)
	}
}

// schedule builds a competition in which X meets one opponent a round, who end with the points given: what they lack
// after X they take from fillers.
func schedule(t *testing.T, points []Fraction, taken []Fraction) ([]PointsEntry, []Result) {
	t.Helper()
	entries := []PointsEntry{{ID: "X"}}
	var results []Result
	rounds := len(points)
	for i, total := range points {
		id := fmt.Sprintf("O%d", i+1)
		entries = append(entries, PointsEntry{ID: id})
		won := Whole(1).Sub(taken[i])
		results = append(results, Result{Round: i + 1, A: "X", B: id, APoints: taken[i], BPoints: won, Played: true})
		lack := total.Sub(won)
		for r := 1; r <= rounds; r++ {
			if r == i+1 {
				continue
			}
			filler := fmt.Sprintf("F%d.%d", i+1, r)
			entries = append(entries, PointsEntry{ID: filler})
			part := Fraction{}
			switch {
			case lack.Cmp(Whole(1)) >= 0:
				part = Whole(1)
			case lack.Sign() > 0:
				part = lack
			}
			lack = lack.Sub(part)
			results = append(results, Result{Round: r, A: id, B: filler, APoints: part, BPoints: Whole(1).Sub(part), Played: true})
		}
		if lack.Sign() != 0 {
			t.Fatalf("%s cannot come to %v points", id, total)
		}
	}
	return entries, results
}

// Public note on Median-Buchholz, 2014: opponents with 4 2 3 4 5 6 give a median of 16; 24, 22 and 19 derived.
func TestBuchholzAndItsCuts(t *testing.T) {
	var file struct {
		Case struct {
			Points   []json.Number          `json:"input_opponent_points"`
			Expected map[string]json.Number `json:"expected"`
		} `json:"buchholz_median"`
	}
	readJSON(t, "tiebreaks.json", &file)
	var points, taken []Fraction
	for _, p := range file.Case.Points {
		points, taken = append(points, dec(t, p)), append(taken, Fraction{})
	}
	entries, results := schedule(t, points, taken)
	names := map[string]string{"buchholz": Buchholz, "cut1": BuchholzCut1, "cut2": BuchholzCut2, "median": MedianBuchholz}
	for key, name := range names {
		rows := rank(t, entries, results, PointsRules{TieBreaks: []string{name}})
		if got, want := values(rows, name)["X"], dec(t, file.Case.Expected[key]).String(); got != want {
			t.Errorf("%s = %s, want %s", name, got, want)
		}
	}
}

// A teaching blog's worked example, 2025, under the FIDE rule of 2023: an opponent with 1 point who withdrew with
// four rounds to go counts 3. The older rule gives the same here: his four rounds count as draws too.
func TestBuchholzWithAWithdrawnOpponent2023(t *testing.T) {
	var file struct {
		Case struct {
			Input struct {
				Final  []json.Number `json:"opponent_final"`
				Result []json.Number `json:"result"`
			} `json:"input"`
			Expected map[string]json.Number `json:"expected"`
		} `json:"buchholz_unplayed_2023"`
	}
	readJSON(t, "tiebreaks.json", &file)
	var points, taken []Fraction
	for i := range file.Case.Input.Final {
		points, taken = append(points, dec(t, file.Case.Input.Final[i])), append(taken, dec(t, file.Case.Input.Result[i]))
	}
	entries, results := schedule(t, points, taken)
	// The fourth opponent, who lost to X, plays in the first of his other rounds only and withdraws; X meets him
	// in the second round then, and the second opponent in the fourth.
	results = slices.DeleteFunc(results, func(r Result) bool { return r.A == "O4" && r.Round > 1 })
	for i, r := range results {
		switch {
		case r.A == "X" && r.B == "O4":
			results[i].Round = 2
		case r.A == "X" && r.B == "O2":
			results[i].Round = 4
		case r.A == "O2" && r.Round == 4:
			results[i].Round = 2
		}
	}
	expected := map[string]string{
		Buchholz: "buchholz", MedianBuchholz: "median", SonnebornBerger: "sonneborn_berger",
	}
	for name, key := range expected {
		rows := rank(t, entries, results, PointsRules{TieBreaks: []string{name}})
		if got, want := values(rows, name)["X"], dec(t, file.Case.Expected[key]).String(); got != want {
			t.Errorf("%s = %s, want %s", name, got, want)
		}
	}
	played := rank(t, entries, results, PointsRules{Unplayed: AsPlayed, TieBreaks: []string{Buchholz, SonnebornBerger}})
	if got, want := values(played, Buchholz)["X"], dec(t, file.Case.Expected["buchholz_unadjusted"]).String(); got != want {
		t.Errorf("Buchholz as played = %s, want %s", got, want)
	}
	if got, want := values(played, SonnebornBerger)["X"], dec(t, file.Case.Expected["sonneborn_berger_unadjusted"]).String(); got != want {
		t.Errorf("Sonneborn-Berger as played = %s, want %s", got, want)
	}
}

// The world championship of 1948: crosstable from memory, values derived from the definitions.
func TestWorldChampionship1948(t *testing.T) {
	var file struct {
		Case struct {
			Input    map[string]map[string]json.Number `json:"input"`
			Games    int                               `json:"games_per_pair"`
			Expected struct {
				Points map[string]json.Number `json:"points"`
				SB     map[string]json.Number `json:"sonneborn_berger"`
				Koya   map[string]json.Number `json:"koya"`
				Direct map[string]json.Number `json:"direct_encounter_among_tied"`
			} `json:"expected"`
		} `json:"world_championship_1948"`
	}
	readJSON(t, "tiebreaks.json", &file)
	entries, totals := crosstable(t, file.Case.Input)
	var results []Result
	for _, total := range totals {
		for game := range file.Case.Games { // Wins first, then a draw, then losses.
			part := total.APoints
			if part.Cmp(Whole(1)) > 0 {
				part = Whole(1)
			}
			total.APoints = total.APoints.Sub(part)
			results = append(results, Result{
				Round: game + 1, A: total.A, B: total.B, APoints: part, BPoints: Whole(1).Sub(part), Played: true,
			})
		}
	}
	rows := rank(t, entries, results, PointsRules{Unplayed: AsPlayed, TieBreaks: []string{Direct, SonnebornBerger, Koya}})
	want := file.Case.Expected
	for name, numbers := range map[string]map[string]json.Number{
		"": want.Points, SonnebornBerger: want.SB, Koya: want.Koya, Direct: want.Direct,
	} {
		if diff := cmp.Diff(texts(t, numbers), values(rows, name)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", name, diff)
		}
	}
	if diff := cmp.Diff(
		[]string{"1 Botvinnik points", "2 Smyslov points", "3 Reshevsky direct", "4 Keres direct", "5 Euwe points"}, brief(rows),
	); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
}

// World Correspondence Championship 1975-80, cited in the encyclopaedia article on the Neustadtl score: points come
// before Sonneborn-Berger. The crosstable is not published there, so the criteria are given their figures.
func TestPointsComeBeforeSonnebornBerger(t *testing.T) {
	var file struct {
		Case struct {
			Input    [][]any  `json:"input"`
			Expected []string `json:"expected"`
		} `json:"wccc_1975_80"`
	}
	readJSON(t, "tiebreaks.json", &file)
	column := func(at int) criterion {
		return by(fmt.Sprint("column ", at), func(a, b int) int {
			x, y := file.Case.Input[a][at].(float64), file.Case.Input[b][at].(float64)
			switch {
			case x > y:
				return -1
			case x < y:
				return 1
			}
			return 0
		})
	}
	sets, _ := chain(len(file.Case.Input), []criterion{column(1), column(2)})
	var got []string
	for _, set := range sets {
		for _, e := range set {
			got = append(got, file.Case.Input[e][0].(string))
		}
	}
	if diff := cmp.Diff(file.Case.Expected, got); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
}

func TestTieBreaksOnTheirOwn(t *testing.T) {
	win := func(round int, a, b string) Result {
		return Result{Round: round, A: a, B: b, APoints: Whole(1), Played: true}
	}
	three := []PointsEntry{{ID: "A", Rating: 1500}, {ID: "B", Rating: 1601}, {ID: "C", Rating: 1400}}
	tests := []struct {
		name      string
		results   []Result
		unplayed  Unplayed
		tieBreak  string
		want      map[string]string
		decidedBy []string
	}{
		{
			"average rating is rounded, halves up",
			[]Result{win(1, "A", "B"), win(2, "A", "C"), win(3, "B", "C")},
			"", AverageRating,
			map[string]string{"A": "1501", "B": "1450", "C": "1551"},
			nil,
		},
		{
			"a bye has no rating",
			[]Result{{Round: 1, A: "A", APoints: Whole(1)}, win(1, "B", "C")},
			"", AverageRating,
			map[string]string{"B": "1400", "C": "1601"},
			[]string{"1 B average-rating", "2 A average-rating", "3 C points"},
		},
		{
			"a bye is no win",
			[]Result{{Round: 1, A: "A", APoints: Whole(1)}, win(1, "B", "C")},
			"", Wins,
			map[string]string{"A": "0", "B": "1", "C": "0"},
			[]string{"1 B wins", "2 A wins", "3 C points"},
		},
		{
			// A: bye against the dummy with its own 2, then B with 1 and C with 0.
			"own bye, 2023",
			[]Result{{Round: 1, A: "A", APoints: Whole(1)}, win(2, "A", "B"), win(1, "B", "C")},
			"", Buchholz,
			map[string]string{"A": "3", "B": "2.5", "C": "1"},
			nil,
		},
		{
			// A's bye: the dummy had 0, lost, and drew the second round: 1/2. C's missed second round in the
			// eyes of B: a draw; A's bye in the eyes of B: a draw, so A counts 1.5.
			"own bye, before 2023",
			[]Result{{Round: 1, A: "A", APoints: Whole(1)}, win(2, "A", "B"), win(1, "B", "C")},
			UnplayedBefore2023, Buchholz,
			map[string]string{"A": "1.5", "B": "2", "C": "2"},
			nil,
		},
		{
			// A has 2.5, B 0 and 0.5 in the eyes of others, C 1. A: 0.5 + 1 without the own 2.5; B: 2.5 + 1
			// without the own 0; C: 0.5 + 2.5 without the own 1.
			"the cut takes rounds unplayed by choice first, 2023",
			[]Result{win(1, "A", "B"), {Round: 2, A: "A", APoints: Half(1)}, win(3, "A", "C"), win(2, "C", "B")},
			"", BuchholzCut1,
			map[string]string{"A": "1.5", "B": "3.5", "C": "3"},
			nil,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := rank(t, three, tt.results, PointsRules{Unplayed: tt.unplayed, TieBreaks: []string{tt.tieBreak}})
			if diff := cmp.Diff(tt.want, values(rows, tt.tieBreak)); diff != "" {
				t.Errorf("%s (-want +got):\n%s", tt.tieBreak, diff)
			}
			if diff := cmp.Diff(tt.decidedBy, brief(rows)); tt.decidedBy != nil && diff != "" {
				t.Errorf("ranking (-want +got):\n%s", diff)
			}
		})
	}
}

// If not all of the level ones met, only who is first whatever the missing games gave is put first.
func TestDirectEncounterWithGamesMissing(t *testing.T) {
	win := func(round int, a, b string) Result {
		return Result{Round: round, A: a, B: b, APoints: Whole(1), Played: true}
	}
	entries := []PointsEntry{{ID: "A"}, {ID: "B"}, {ID: "C"}, {ID: "D"}, {ID: "E"}}
	tests := []struct {
		name    string
		results []Result
		want    []string
	}{
		{
			"A beat B and C, who have not met",
			[]Result{win(1, "A", "B"), win(2, "A", "C"), win(3, "D", "A"), win(2, "B", "D"), win(3, "B", "E"), win(1, "C", "D"), win(3, "C", "D")},
			[]string{"1 A direct", "2 B shared", "2 C shared", "4 D points", "5 E points"},
		},
		{
			"A beat B only: C might still come level",
			[]Result{win(1, "A", "B"), win(2, "A", "D"), win(2, "B", "D"), win(3, "B", "E"), win(1, "C", "D"), win(3, "C", "D")},
			[]string{"1 A shared", "1 B shared", "1 C shared", "4 D shared", "4 E shared"},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			results := tt.results
			for i := range results { // The rounds do not matter here.
				results[i].Round = i + 1
			}
			rows := rank(t, entries, results, PointsRules{TieBreaks: []string{Direct}})
			if diff := cmp.Diff(tt.want, brief(rows)); diff != "" {
				t.Errorf("ranking (-want +got):\n%s", diff)
			}
		})
	}
}
