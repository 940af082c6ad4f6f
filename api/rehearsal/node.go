package rehearsal

import (
	"context"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/simulate"
	"benchmeet/domain/trace"
)

// node is the counter box at a simulated bench.
type node struct {
	bench  Bench
	client *Client
	pace   Pace
	boot   string
	boots  int
	seed   uint64
	// hurry has it send without waiting: nobody watches the checks of the morning.
	hurry bool
	// reference is the newest run of a check that it was asked for.
	reference string
	// disturbed has it wait for runs that the server records in a sweep.
	disturbed bool
}

// sweptWithin is how long a disturbed server may take to record a run that it has whole.
const sweptWithin = 30 * time.Second

// chunkS is how much of a run goes into one chunk, in seconds.
const chunkS = 5.0

func newNode(b Bench, c *Client, p Plan, pace Pace) *node {
	n := &node{bench: b, client: c, pace: pace, seed: simulate.Key(p.Seed, "boxes of", p.Meet)}
	n.restart()
	return n
}

// restart draws a new boot id, as a counter box does when it is switched on. Only
// a day that is played again for the same result derives it from the seed.
func (n *node) restart() {
	n.boots++
	if n.pace.Real {
		n.boot = fmt.Sprintf("%016x", rand.Uint64())
		return
	}
	key := simulate.Key(n.seed, "boot", n.bench.ID, fmt.Sprint(n.boots))
	n.boot = fmt.Sprintf("%016x", key)
}

// race is one run to be made.
type race struct {
	run    string
	meet   string
	car    string // in practice
	raceS  float64
	params simulate.Params
}

// sent is a run that was acknowledged whole.
type sent struct {
	run, boot, bench, trace string
	fresh, recorded         bool
}

// make simulates a run and sends it in chunks. Late holds the last chunk back
// until the channel closes.
func (n *node) make(ctx context.Context, r race, late <-chan struct{}) (sent, error) {
	// The car drives the surface: a roller that is larger than it was measured turns
	// less often.
	r.params.CircumferenceMM = n.bench.CircumferenceMM * n.bench.Reads
	r.params.RPM /= n.bench.Reads
	pace := n.pace
	if n.hurry {
		pace = Pace{}
	}
	train := simulate.Run(r.params)
	t := trace.Train{Bench: n.bench.ID, Boot: n.boot, Run: r.run, Stamps: train.Stamps}
	t.Totals = trace.Totals{
		Stamps: len(train.Stamps), StartSource: trace.StartBenchClock, StartUS: r.params.StartUS,
		DurationUS: int64(r.raceS * 1e6), Meet: r.meet, Car: r.car,
	}
	chunks := split(train.Stamps, r.params.StartUS, pace.chunkS())
	t.Totals.Chunks = len(chunks)
	sum := t.Hash()
	out := sent{run: r.run, boot: n.boot, bench: n.bench.ID, trace: hex.EncodeToString(sum[:])}
	for i, stamps := range chunks {
		c := trace.Chunk{Key: trace.Key{Boot: n.boot, Run: r.run, Number: i}, Stamps: stamps}
		last := i == len(chunks)-1
		if last {
			c.Last = &t.Totals
			if late != nil {
				<-late
			}
		}
		if err := pace.sleep(ctx, time.Duration(pace.chunkS()*float64(time.Second))); err != nil {
			return out, err
		}
		body, err := wire.ShowChunk(c)
		if err != nil {
			return out, err
		}
		var kept gen.ChunkKept
		if err := n.client.do(ctx, http.MethodPost, "/api/v1/benches/"+n.bench.ID+"/chunks", "", json.RawMessage(body), &kept); err != nil {
			return out, err
		}
		out.fresh, out.recorded = kept.Fresh, kept.Recorded
		for end := time.Now().Add(sweptWithin); last && n.disturbed && !out.recorded && time.Now().Before(end); out.recorded = kept.Recorded {
			if err := (Pace{Real: true}).sleep(ctx, 5*retryEvery); err != nil {
				return out, err
			}
			if err := n.client.do(ctx, http.MethodPost, "/api/v1/benches/"+n.bench.ID+"/chunks", "", json.RawMessage(body), &kept); err != nil {
				return out, err
			}
		}
	}
	return out, nil
}

// split cuts a train into chunks of so many seconds, at least one.
func split(stamps []int64, startUS int64, seconds float64) [][]int64 {
	var out [][]int64
	cut := startUS
	rest := stamps
	for len(rest) > 0 {
		cut += int64(seconds * 1e6)
		k := 0
		for k < len(rest) && k < trace.MaxStamps && rest[k] < cut {
			k++
		}
		out = append(out, rest[:k:k])
		rest = rest[k:]
	}
	if len(out) == 0 {
		out = append(out, []int64{})
	}
	for i := range out {
		if out[i] == nil {
			out[i] = []int64{}
		}
	}
	return out
}

// Pace says whether the day is played in real time or as fast as it goes.
type Pace struct{ Real bool }

// sleep waits in a day that is played in real time.
func (p Pace) sleep(ctx context.Context, d time.Duration) error {
	if !p.Real {
		return ctx.Err()
	}
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(d):
		return nil
	}
}

func (p Pace) chunkS() float64 {
	if p.Real {
		return 0.5
	}
	return chunkS
}
