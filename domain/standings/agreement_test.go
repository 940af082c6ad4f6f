package standings

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Hollander and Wolfe 1973 (tuna), the encyclopaedia's IQ and TV hours, and two cases with ties: data from memory
// where the file says so.
func TestAgree(t *testing.T) {
	type example struct {
		X, Y     []json.Number
		Expected struct {
			Concordant, Discordant int
			TiesX                  int     `json:"ties_x"`
			TiesY                  int     `json:"ties_y"`
			TauA                   float64 `json:"tau_a"`
			TauB                   float64 `json:"tau_b"`
			Rho                    float64 `json:"spearman_rho"`
		}
	}
	var file map[string]example
	readJSON(t, "rank_correlation.json", &file)
	if len(file) != 4 {
		t.Fatalf("%d cases were read", len(file))
	}
	for name, c := range file {
		t.Run(name, func(t *testing.T) {
			var x, y []Fraction
			for i := range c.X {
				x, y = append(x, dec(t, c.X[i])), append(y, dec(t, c.Y[i]))
			}
			got, err := Agree(x, y)
			if err != nil {
				t.Fatal(err)
			}
			e := c.Expected
			if diff := cmp.Diff(
				[]int{e.Concordant, e.Discordant, e.TiesX, e.TiesY}, []int{got.Concordant, got.Discordant, got.TiesX, got.TiesY},
			); diff != "" {
				t.Errorf("pairs (-want +got):\n%s", diff)
			}
			for i, pair := range [][2]float64{{e.TauA, got.TauA}, {e.TauB, got.TauB}, {e.Rho, got.Rho}} {
				if math.Abs(pair[0]-pair[1]) > 1e-9 {
					t.Errorf("coefficient %d is %.10f, want %.10f", i, pair[1], pair[0])
				}
			}
		})
	}
}

// Hollander and Wolfe 1973: T = 26 of 9 entries has the one-sided exact probability 0.05972.
func TestExactTail(t *testing.T) {
	if got := ExactTail(9, 26).Decimal(5); got != "0.05972" {
		t.Errorf("probability %s, want 0.05972", got)
	}
	if got := ExactTail(4, 0); !got.Equal(Whole(1)) {
		t.Errorf("probability of at least none: %v", got)
	}
	if got := ExactTail(4, 6); !got.Equal(Ratio(1, 24)) {
		t.Errorf("probability of the one best order of four: %v", got)
	}
}

func TestAgreeEdges(t *testing.T) {
	if _, err := Agree([]Fraction{Whole(1)}, nil); err == nil {
		t.Error("lists of two lengths were compared")
	}
	level, err := Agree([]Fraction{Whole(1), Whole(1)}, []Fraction{Whole(1), Whole(2)})
	if err != nil || !math.IsNaN(level.TauB) || !math.IsNaN(level.Rho) || level.TauA != 0 {
		t.Errorf("one side level: %+v, %v", level, err)
	}
}

// The cities of Tennessee (best 393) and Condorcet's 60 voters (a cycle; best 104), from memory, enumerated.
func TestKemeny(t *testing.T) {
	var file map[string]struct {
		Profile [][]any
		Best    [][]string `json:"kemeny_best"`
		Score   int64      `json:"kemeny_score"`
	}
	readJSON(t, "kemeny.json", &file)
	if len(file) != 2 {
		t.Fatalf("%d cases were read", len(file))
	}
	for name, c := range file {
		var ballots []Ballot
		for _, line := range c.Profile {
			b := Ballot{Weight: int64(line[0].(float64))}
			for _, id := range line[1].([]any) {
				b.Order = append(b.Order, id.(string))
			}
			ballots = append(ballots, b)
		}
		order, score, err := Kemeny(ballots)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.Best[0], order); diff != "" || score != c.Score {
			t.Errorf("%s: score %d, want %d; order (-want +got):\n%s", name, score, c.Score, diff)
		}
	}
}

// A dumb version tries every order.
func TestKemenyAgainstEveryOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ids := []string{"A", "B", "C", "D", "E"}[:rapid.IntRange(1, 5).Draw(t, "n")]
		var ballots []Ballot
		for range rapid.IntRange(1, 4).Draw(t, "ballots") {
			order := rapid.Permutation(ids).Draw(t, "order")
			ballots = append(ballots, Ballot{rapid.Int64Range(0, 9).Draw(t, "weight"), order[:rapid.IntRange(0, len(order)).Draw(t, "listed")]})
		}
		score := func(order []string) (sum int64) {
			at := map[string]int{}
			for i, id := range order {
				at[id] = i
			}
			for _, b := range ballots {
				for i := range b.Order {
					for j := i + 1; j < len(b.Order); j++ {
						if at[b.Order[i]] < at[b.Order[j]] {
							sum += b.Weight
						}
					}
				}
			}
			return sum
		}
		order, got, err := Kemeny(ballots)
		if err != nil {
			t.Fatal(err)
		}
		best := int64(0)
		permute(ids, 0, func() { best = max(best, score(ids)) })
		if got != best || score(order) != got {
			t.Fatalf("order %v with %d, which counts %d; the best is %d", order, got, score(order), best)
		}
	})
}

func permute(ids []string, k int, visit func()) {
	if k == len(ids) {
		visit()
		return
	}
	for i := k; i < len(ids); i++ {
		ids[k], ids[i] = ids[i], ids[k]
		permute(ids, k+1, visit)
		ids[k], ids[i] = ids[i], ids[k]
	}
}

func TestKemenyRefuses(t *testing.T) {
	var many []string
	for i := range MaxKemeny + 1 {
		many = append(many, fmt.Sprint(i))
	}
	for name, ballots := range map[string][]Ballot{
		"twice in a ballot": {{1, []string{"A", "A"}}},
		"no id":             {{1, []string{""}}},
		"too many":          {{1, many}},
		"negative weight":   {{-1, []string{"A"}}},
	} {
		if order, _, err := Kemeny(ballots); err == nil {
			t.Errorf("%s: got %v", name, order)
		}
	}
	if order, score, err := Kemeny(nil); len(order) != 0 || score != 0 || err != nil {
		t.Errorf("no ballot: %v, %d, %v", order, score, err)
	}
}
