package forecast

import (
	"math"
	"slices"
)

// Quantiles are the values that one in ten, one in two and nine in ten of the played
// days stay under.
type Quantiles struct{ P10, P50, P90 float64 }

// Report is what a day will likely be.
type Report struct {
	// Finish is when the last heat ends, in the seconds of [Day.Opens]; LateChance is
	// how often that is after [Day.Closes].
	Finish     Quantiles
	LateChance float64
	// Bottleneck is what holds the day up: [Benches], or the id of the division whose
	// rounds wait for one another.
	Bottleneck string
	// Used is the part of the bench time until the finish that is used, on average.
	Used   float64
	Rounds []RoundSpan
	// Fit is how the day's form does what a day is for.
	Fit Fit
}

// Benches is the bottleneck of a day that more benches would shorten.
const Benches = "benches"

// busy is the part of the bench time that is used, from which on the benches are what
// holds a day up: the rest is change of rounds, which more benches do not shorten.
const busy = 0.8

// RoundSpan is when a round likely begins and ends.
type RoundSpan struct {
	Division      string
	Stage, Number int
	// Chance is how often it is raced at all: a second final is not always.
	Chance     float64
	Start, End Quantiles
}

// Fit is what a form of competition gives the children of a day, on average over the
// divisions by their entries.
type Fit struct {
	// BestCarWins is how often the truly quickest car is first.
	BestCarWins float64
	// RankAgreement is Kendall's tau between the final order and the true speeds: 1
	// where all pairs stand right, 0 where as many stand wrong. Places that are shared
	// count as neither.
	RankAgreement float64
	// Runs is how often an entry races on average, LeastRuns how often each does at
	// least.
	Runs      float64
	LeastRuns int
	// LongestWait is the longest time of a day between two races of an entry, in seconds,
	// on average over the days played: no average over entries, but the one who waits
	// longest.
	LongestWait float64
}

// Play plays the day so many times, from 100 to [MaxSamples].
func Play(d Day, samples int, seed uint64) (Report, error) {
	if err := checkSamples(samples); err != nil {
		return Report{}, err
	}
	s, err := newPlaying(d)
	if err != nil {
		return Report{}, err
	}
	for k := range samples {
		s.add(seed, uint64(k))
	}
	return s.report(), nil
}

func checkSamples(samples int) error {
	if samples < 100 || samples > MaxSamples {
		return refusef("%d samples: give 100 to %d", samples, MaxSamples)
	}
	return nil
}

// playing is a day that is played again and again.
type playing struct {
	*sums
	programmes []programme
}

func newPlaying(d Day) (playing, error) {
	if err := d.check(); err != nil {
		return playing{}, err
	}
	p := playing{newSums(d), make([]programme, len(d.Divisions))}
	for i, division := range d.Divisions {
		laid, err := layOut(division, d.Benches)
		if err != nil {
			return playing{}, err
		}
		p.programmes[i] = laid
	}
	return p, nil
}

func (p playing) add(seed, sample uint64) { p.sums.add(p.programmes, seed, sample) }

// sums are what is kept of the samples.
type sums struct {
	day      Day
	finishes []float64
	used     float64
	last     []int // how often each division ended last
	rounds   []map[[2]int]*roundSums
	fit      Fit
	weight   float64
}

type roundSums struct{ starts, ends []float64 }

func newSums(d Day) *sums {
	s := &sums{day: d, last: make([]int, len(d.Divisions)), fit: Fit{LeastRuns: math.MaxInt}}
	for range d.Divisions {
		s.rounds = append(s.rounds, map[[2]int]*roundSums{})
	}
	return s
}

// add plays one sample.
func (s *sums) add(programmes []programme, seed, sample uint64) {
	fields := make([]raced, len(programmes))
	for i, p := range programmes {
		c := newChance(p.Division, s.day.FailureRate, seed, sample, i)
		fields[i] = p.race(c)
		s.judge(c, fields[i])
	}
	t := s.day.newTimes(fields, stream(seed, sample, 0, timesStream))
	finish := t.run()
	s.finishes = append(s.finishes, finish)
	if finish > s.day.Opens {
		s.used += t.used / (float64(s.day.Benches) * (finish - s.day.Opens))
	}
	latest, which := math.Inf(-1), 0
	for i, l := range t.lines {
		for k, r := range l.rounds {
			key := [2]int{r.stage, r.number}
			if s.rounds[i][key] == nil {
				s.rounds[i][key] = &roundSums{}
			}
			of := s.rounds[i][key]
			of.starts = append(of.starts, l.spans[k].start)
			of.ends = append(of.ends, l.spans[k].end)
			if l.spans[k].end > latest {
				latest, which = l.spans[k].end, i
			}
		}
	}
	s.last[which]++
	s.fit.LongestWait += t.longest
}

// judge adds how well the final order of a division tells its cars apart.
func (s *sums) judge(c *chance, r raced) {
	n := len(r.places)
	w := float64(n)
	s.weight += w
	best := 0
	for car := range n {
		if c.speeds[car] > c.speeds[best] {
			best = car
		}
		s.fit.Runs += float64(r.runs[car])
		s.fit.LeastRuns = min(s.fit.LeastRuns, r.runs[car])
	}
	first := slices.Min(r.places)
	if r.places[best] == first {
		s.fit.BestCarWins += w
	}
	s.fit.RankAgreement += w * agreement(c.speeds, r.places)
}

// agreement is Kendall's tau-a (M. G. Kendall, "A new measure of rank correlation",
// Biometrika 30, 1938) of speeds, of which more is better, and places, of which less is.
// One entry agrees with itself. It is quadratic, and many times quicker than sorting
// for fields of a hall.
func agreement(speeds, places []float64) float64 {
	n := len(speeds)
	if n < 2 {
		return 1
	}
	agree := 0
	for i := range n {
		for j := range i {
			switch better := speeds[i] > speeds[j]; {
			case speeds[i] == speeds[j] || places[i] == places[j]:
			case better == (places[i] < places[j]):
				agree++
			default:
				agree--
			}
		}
	}
	return float64(agree) / float64(n*(n-1)/2)
}

// report puts the sums into figures.
func (s *sums) report() Report {
	n := float64(len(s.finishes))
	out := Report{Finish: quantiles(s.finishes), Used: s.used / n, Bottleneck: Benches, Fit: s.fit}
	late := 0
	for _, f := range s.finishes {
		if f > s.day.Closes {
			late++
		}
	}
	out.LateChance = float64(late) / n
	if out.Used < busy {
		most := 0
		for i, count := range s.last {
			if count > s.last[most] {
				most = i
			}
		}
		out.Bottleneck = s.day.Divisions[most].ID
	}
	out.Fit.BestCarWins /= s.weight
	out.Fit.RankAgreement /= s.weight
	out.Fit.Runs /= s.weight
	out.Fit.LongestWait /= n
	for i, division := range s.day.Divisions {
		keys := make([][2]int, 0, len(s.rounds[i]))
		for key := range s.rounds[i] {
			keys = append(keys, key)
		}
		slices.SortFunc(keys, func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
		for _, key := range keys {
			of := s.rounds[i][key]
			out.Rounds = append(out.Rounds, RoundSpan{
				division.ID, key[0], key[1], float64(len(of.starts)) / n, quantiles(of.starts), quantiles(of.ends),
			})
		}
	}
	return out
}

// quantiles sorts a copy of the values and interpolates between neighbours (type 7 of
// R. J. Hyndman and Y. Fan, "Sample quantiles in statistical packages", 1996).
func quantiles(values []float64) Quantiles {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	at := func(p float64) float64 {
		h := p * float64(len(sorted)-1)
		i := int(h)
		if i+1 == len(sorted) {
			return sorted[i]
		}
		return sorted[i] + (h-float64(i))*(sorted[i+1]-sorted[i])
	}
	return Quantiles{at(0.1), at(0.5), at(0.9)}
}
