package bracket

// Pairing is a meeting of two by their numbers from 1; First runs on the left bench.
type Pairing struct{ First, Second int }

// Berger returns the rounds of the Berger table for n players, n being even, board by board: every two meet once,
// and each player's sides differ by at most one. Odd n are rounded up, and whoever meets the number n+1 rests. It
// returns nil for n below 2.
//
// Source: FIDE Handbook C.05 Annex 1, details of Berger tables; the rule below reproduces the printed tables with
// the order of boards and sides.
func Berger(n int) [][]Pairing {
	if n < 2 {
		return nil
	}
	n += n % 2
	rounds := make([][]Pairing, n-1)
	for r := range rounds {
		p := r * n / 2 % (n - 1) // The opponent of player n, from 0.
		first := Pairing{p + 1, n}
		if r%2 == 1 {
			first = Pairing{n, p + 1}
		}
		rounds[r] = append(rounds[r], first)
		for k := 1; k < n/2; k++ {
			rounds[r] = append(rounds[r], Pairing{(p+k)%(n-1) + 1, (p-k+n-1)%(n-1) + 1})
		}
	}
	return rounds
}

// BergerCycles returns the table repeated, every second time with the sides turned round. In every cycle but the
// last, the last two rounds change places, as the annex advises for two cycles: otherwise somebody would have
// the same side three times running. (Four players in three cycles or more cannot be spared that.)
func BergerCycles(n, cycles int) [][]Pairing {
	table := Berger(n)
	var rounds [][]Pairing
	for c := range cycles {
		for r := range table {
			at := r
			if last := len(table) - 1; c < cycles-1 && last >= 1 && r >= last-1 {
				at = 2*last - 1 - r
			}
			round := make([]Pairing, len(table[at]))
			for i, p := range table[at] {
				if c%2 == 1 {
					p = Pairing{p.Second, p.First}
				}
				round[i] = p
			}
			rounds = append(rounds, round)
		}
	}
	return rounds
}
