package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store/postgres/pgtest"
)

// faulty is a hall in which everything fails now and then: servers on one store behind one
// address, links that break, a counter box's node, writers, a whole meet with its screens.
type faulty struct {
	t       *testing.T
	rng     *rand.Rand
	servers []*victim
	clocks  []string // the files by which the servers' clocks are stepped
	front   *link    // between all who ask and the servers
	history *history
	box     *boxAtNode
	// faults are what can happen; each does its harm, waits, and mends it.
	faults []fault
	done   map[string]int
}

type fault struct {
	name string
	do   func()
}

func newFaulty(t *testing.T, seed uint64) *faulty {
	return &faulty{t: t, rng: rand.New(rand.NewPCG(seed, 17)), done: map[string]int{}}
}

// server adds a server. Its first one gives the organiser's sign-in.
func (f *faulty) server(flags ...string) {
	f.t.Helper()
	port := freePort(f.t)
	clock := filepath.Join(f.t.TempDir(), "clock")
	v := &victim{t: f.t, base: fmt.Sprintf("http://127.0.0.1:%d", port), env: []string{steppedClock + "=" + clock}}
	v.args = append([]string{"serve", "--listen", fmt.Sprintf("127.0.0.1:%d", port)}, flags...)
	if len(f.servers) == 0 {
		v.secret = v.start("--new-sign-in")
	} else {
		v.secret = f.servers[0].secret
		v.start()
	}
	f.t.Cleanup(v.kill)
	f.servers, f.clocks = append(f.servers, v), append(f.clocks, clock)
}

// open puts the one address in front of the servers, and begins the history.
func (f *faulty) open() {
	f.t.Helper()
	var mu sync.Mutex
	own := rand.New(rand.NewPCG(1, 1))
	f.front = newLink(f.t, "tcp", "127.0.0.1:0", func() (net.Conn, error) {
		mu.Lock()
		first := own.IntN(len(f.servers))
		mu.Unlock()
		for i := range f.servers {
			to := f.servers[(first+i)%len(f.servers)].base
			if conn, err := net.DialTimeout("tcp", strings.TrimPrefix(to, "http://"), time.Second); err == nil {
				return conn, nil
			}
		}
		return nil, syscall.ECONNREFUSED
	})
	bases := []string{f.base()}
	for _, v := range f.servers {
		bases = append(bases, v.base)
	}
	f.history = newHistory(f.t, f.servers[0].secret, bases...)
}

func (f *faulty) base() string { return "http://" + f.front.listener.Addr().String() }

func (f *faulty) wait(least, most time.Duration) {
	time.Sleep(least + time.Duration(f.rng.Int64N(int64(most-least))))
}

// usual are the faults of every hall.
func (f *faulty) usual() {
	for i, v := range f.servers {
		f.faults = append(
			f.faults,
			fault{"a server is killed", func() { v.kill(); f.wait(0, 300*time.Millisecond); v.start() }},
			fault{"a clock is stepped", func() {
				stepClock(f.t, f.clocks[i], time.Duration(f.rng.Int64N(int64(2*time.Hour)))-time.Hour)
				f.wait(0, 300*time.Millisecond)
			}},
		)
	}
	f.faults = append(
		f.faults,
		fault{"the hall's network refuses", func() { f.front.set(refused); f.wait(0, 500*time.Millisecond); f.front.set(whole) }},
		fault{"the hall's network is silent", func() { f.front.set(silent); f.wait(0, time.Second); f.front.set(whole) }},
		fault{"a node is killed", func() { f.box.kill(); f.wait(0, 300*time.Millisecond); f.box.start() }},
	)
}

// sayFailures shows what the servers' logs say of requests that failed.
func (f *faulty) sayFailures() {
	shown := 0
	for i, v := range f.servers {
		for line := range strings.Lines(v.log.String()) {
			if shown < 12 && strings.Contains(line, "level=ERROR") && !strings.Contains(line, "nothing can be kept") {
				f.t.Errorf("server %d: %s", i+1, line)
				shown++
			}
		}
	}
}

// play has so many faults happen while writers write and meets are played, and then looks
// at what came of it.
func (f *faulty) play(rounds int) {
	t := f.t
	ctx, cancel := context.WithTimeout(t.Context(), time.Duration(rounds)*4*time.Second+2*time.Minute)
	defer cancel()
	h := f.history
	h.give(ctx, f.rng, "POST", "spring", "-", planned("spring"))
	h.give(ctx, f.rng, "PUT", "spring", "/divisions/open", openDivision())
	f.box = newBoxAtNode(ctx, t, f.base(), f.servers[0].secret)

	const together, alone = 12, 6
	harm, mended := context.WithCancel(ctx)
	on := func() bool { return harm.Err() == nil }
	var writers sync.WaitGroup
	for n := range together {
		own := rand.New(rand.NewPCG(uint64(n), 1))
		writers.Go(func() { f.toOneMeet(ctx, own, n, on) })
	}
	for n := range alone {
		own := rand.New(rand.NewPCG(uint64(n), 2))
		writers.Go(func() { f.toOwnMeet(ctx, own, fmt.Sprintf("small-%d", n), on) })
	}
	writers.Go(func() { f.box.practise(ctx, on) })
	var days []*rehearsal.Day
	writers.Go(func() {
		for n := 1; on(); n++ {
			plan := rehearsal.MakePlan(uint64(n), 12, 4)
			plan.Meet = fmt.Sprintf("played-%d", n)
			plan.ProtestS, plan.CallS = 0, 0 // the clock of these servers is nearly real
			day := rehearsal.New(rehearsal.Options{
				Base: f.base(), Token: f.servers[0].secret, Plan: plan, Disturbed: true,
				HTTP: &http.Client{Timeout: 5 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 64}},
			})
			day.Listen(ctx, 4)
			if err := day.Play(ctx); err != nil {
				t.Errorf("meet %d: %v", n, err)
				return
			}
			days = append(days, day)
		}
	})
	var deck []int // each kind comes once before any comes again
	for range rounds {
		if len(deck) == 0 {
			deck = f.rng.Perm(len(f.faults))
		}
		one := f.faults[deck[0]]
		deck = deck[1:]
		one.do()
		f.done[one.name]++
		f.wait(20*time.Millisecond, 200*time.Millisecond)
	}
	mended()
	writers.Wait()
	f.sayFailures()
	f.box.settle(ctx)
	for i, day := range days {
		evidence, err := day.Gather(ctx)
		if err != nil {
			t.Fatal(err)
		}
		for _, found := range append(day.Check(evidence), day.ScreensAgree(ctx, evidence)) {
			if !found.Holds {
				t.Errorf("meet %d: %s: %s", i+1, found.Name, found.Says)
			}
		}
	}
	all := []string{}
	for _, v := range f.servers {
		all = append(all, v.base)
	}
	h.agree(ctx, all, "spring", "/entries", "/divisions/open/standings")
	for n := range alone {
		h.agree(ctx, all, fmt.Sprintf("small-%d", n))
	}
	t.Logf("%d rounds %v: %d orders in %d tries, %d meets played, %d runs of the box",
		rounds, f.done, len(h.orders), h.tries, len(days), f.box.armed)
}

// toOneMeet enters a car and checks it in and out.
func (f *faulty) toOneMeet(ctx context.Context, rng *rand.Rand, n int, on func() bool) {
	id := fmt.Sprintf("e-%d", n+1)
	f.history.give(ctx, rng, "POST", "spring", "/entries", gen.TakeEntry{
		Id: &id, Division: "open", StartNumber: n + 1,
		Person: &gen.PersonBody{Name: fmt.Sprintf("Child %d Quay", n), DisplayName: fmt.Sprintf("Nick %d", n), OnScreen: true, InResults: true},
	})
	for there := true; on(); there = !there {
		f.history.give(ctx, rng, "POST", "spring", "/entries/"+id+"/check-in", gen.CheckIn{There: there})
		time.Sleep(5 * time.Millisecond)
	}
}

// toOwnMeet stops a meet of its own and goes on with it.
func (f *faulty) toOwnMeet(ctx context.Context, rng *rand.Rand, meet string, on func() bool) {
	f.history.give(ctx, rng, "POST", meet, "-", planned(meet))
	for on() {
		f.history.give(ctx, rng, "POST", meet, "/pause", map[string]any{"reason": map[string]string{"code": "lunch"}})
		f.history.give(ctx, rng, "POST", meet, "/resume", nil)
		time.Sleep(10 * time.Millisecond)
	}
}

// boxAtNode is a simulated bench with its node, a process of its own.
type boxAtNode struct {
	t     *testing.T
	desk  *rehearsal.Client
	args  []string
	spool string
	armed int

	mu     sync.Mutex
	cmd    *exec.Cmd
	killed int
}

func newBoxAtNode(ctx context.Context, t *testing.T, base, secret string) *boxAtNode {
	t.Helper()
	desk := &rehearsal.Client{Base: base, Token: secret, HTTP: &http.Client{Timeout: 5 * time.Second}}
	order(t, desk, http.MethodPut, "/api/v1/benches/box", gen.BenchBody{Number: 99, CircumferenceMm: 94.25})
	b := &boxAtNode{t: t, desk: desk, spool: t.TempDir()}
	key := boxKey(ctx, t, base, secret)
	b.args = []string{"node", "--server", base, "--bench", "box", "--simulate", "8000", "--spool", b.spool, "--token", key}
	b.start()
	t.Cleanup(b.kill)
	return b
}

// boxKey makes the key of the counter box.
func boxKey(ctx context.Context, t *testing.T, base, secret string) string {
	t.Helper()
	wish := strings.NewReader(`{"role":"node","label":"counter box","benches":["box"]}`)
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, base+"/api/v1/tokens", wish)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Authorization", "Bearer "+secret)
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	var made gen.NewToken
	if err := json.NewDecoder(res.Body).Decode(&made); err != nil || made.Secret == "" {
		t.Fatalf("no key for the counter box: %d %v", res.StatusCode, err)
	}
	return made.Secret
}

func (b *boxAtNode) start() {
	cmd := program(context.Background(), b.args...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	if err := cmd.Start(); err != nil {
		b.t.Error(err)
		return
	}
	b.mu.Lock()
	b.cmd = cmd
	b.mu.Unlock()
}

func (b *boxAtNode) kill() {
	b.mu.Lock()
	cmd := b.cmd
	b.cmd = nil
	b.killed++
	b.mu.Unlock()
	if cmd != nil {
		_ = cmd.Process.Kill()
		_ = cmd.Wait() // says that it was killed
	}
}

// practise arms one short run after the other, each when the one before it is on record. A
// server that is behind may not know yet that the bench is armed, so its order does not tell.
func (b *boxAtNode) practise(ctx context.Context, on func() bool) {
	seen := map[string]bool{}
	for on() {
		order(b.t, b.desk, http.MethodPost, "/api/v1/benches/box/practice", gen.ArmPractice{RaceS: 1})
		b.armed++
		for came := false; !came && ctx.Err() == nil; {
			var board gen.PracticeBoard
			if err := b.desk.Get(ctx, "/api/v1/practice", &board); err != nil {
				b.t.Error(err)
				return
			}
			for _, r := range board.Runs {
				if run := asArmed(r); r.Bench == "box" && !seen[run] {
					seen[run], came = true, true
				}
			}
			time.Sleep(50 * time.Millisecond)
		}
	}
}

// asArmed is the name under which a run was armed: one that was begun again has more behind it.
func asArmed(r gen.PracticeRun) string { return strings.SplitN(r.Id, ".", 2)[0] }

// settle waits until the node has handed everything in, and looks at what there is: a run
// for each time that the bench was armed, and none more but where the node was killed in one
// and began it again.
func (b *boxAtNode) settle(ctx context.Context) {
	b.t.Helper()
	for ctx.Err() == nil && unsent(b.t, b.spool) > 0 {
		time.Sleep(100 * time.Millisecond)
	}
	if n := unsent(b.t, b.spool); n > 0 {
		b.t.Errorf("%d files stay in the node's spool", n)
	}
	var board gen.PracticeBoard
	if err := b.desk.Get(ctx, "/api/v1/practice?limit=500", &board); err != nil {
		b.t.Fatal(err)
	}
	all, runs := 0, map[string]int{}
	for _, r := range board.Runs {
		if r.Bench == "box" {
			all++
			runs[asArmed(r)]++
		}
	}
	if len(runs) != b.armed || all > b.armed+b.killed {
		b.t.Errorf("%d runs were armed, the node was killed %d times, and %d runs came of it: %v", b.armed, b.killed, all, runs)
	}
}

// unsent is how many files a spool holds.
func unsent(t *testing.T, spool string) (n int) {
	t.Helper()
	err := filepath.WalkDir(spool, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(path, ".chunk.json") {
			n++
		}
		return nil // a file may go while it is looked at
	})
	if err != nil {
		t.Error(err)
	}
	return n
}

// faultRounds is how many faults there are in a share, or in all where that is asked for.
func faultRounds(share, all int) int {
	if text := os.Getenv("BENCHMEET_FAULT_ROUNDS"); text != "" {
		if n, err := strconv.Atoi(text); err == nil && n > 0 {
			return n
		}
	}
	if os.Getenv("BENCHMEET_PROVE") == "1" {
		return all
	}
	return share
}

// TestProveFaultsOfServers: two servers on one PostgreSQL. Servers, nodes and the database
// are killed, links are cut, clocks are stepped, a server is frozen. Each order is carried
// out once, all servers say the same, and so do screens and a recomputation.
func TestProveFaultsOfServers(t *testing.T) {
	database := pgtest.Own(t)
	f := newFaulty(t, 1)
	var links []*link
	for range 2 {
		l, through := toDatabase(t, database)
		links = append(links, l)
		f.server("--database", through)
	}
	f.open()
	f.usual()
	f.faults = append(f.faults, fault{"the database crashes", func() { database.Crash(); f.wait(0, 500*time.Millisecond); database.Start() }})
	for i, v := range f.servers {
		f.faults = append(
			f.faults,
			fault{"the way to the database refuses", func() { links[i].set(refused); f.wait(0, 800*time.Millisecond); links[i].set(whole) }},
			fault{"the way to the database is silent", func() { links[i].set(silent); f.wait(0, 1500*time.Millisecond); links[i].set(whole) }},
			fault{"a server is frozen", func() {
				_ = syscall.Kill(v.cmd.Process.Pid, syscall.SIGSTOP)
				f.wait(0, time.Second)
				_ = syscall.Kill(v.cmd.Process.Pid, syscall.SIGCONT)
			}},
		)
	}
	f.play(faultRounds(18, 700))
	if code, out, said := runHere(t, "verify", "--database", database.URL()); code != exitDone {
		t.Errorf("verify: %d %s %s", code, out, said)
	}
}

// TestProveFaultsOfADisk: one server on a file, on a disk that is full or slow now and then.
func TestProveFaultsOfADisk(t *testing.T) {
	needStrace(t)
	disk, over := smallDisk(t, 256<<20)
	if over {
		return
	}
	f := newFaulty(t, 2)
	data := filepath.Join(disk, "data")
	f.server("--data", data)
	f.open()
	f.usual()
	f.faults = append(
		f.faults,
		fault{"the disk is full", func() {
			filler := filepath.Join(disk, "filler")
			fill(t, filler)
			f.wait(100*time.Millisecond, 600*time.Millisecond)
			if err := os.Remove(filler); err != nil {
				t.Error(err)
			}
		}},
		fault{"the disk is slow", func() { f.slowly(f.servers[0]) }},
	)
	f.play(faultRounds(10, 300))
	if code, out, said := runHere(t, "verify", "--data", data); code != exitDone {
		t.Errorf("verify: %d %s %s", code, out, said)
	}
}

// fill takes all the room that a disk has.
func fill(t *testing.T, path string) {
	t.Helper()
	file, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o600)
	if err != nil {
		t.Error(err)
		return
	}
	defer file.Close()
	for size := 1 << 20; size >= 512; size /= 2 {
		for some := make([]byte, size); ; {
			if _, err := file.Write(some); err != nil {
				break
			}
		}
	}
}

// slowly has each sync of a server take a fifth of a second longer, for a while.
func (f *faulty) slowly(v *victim) {
	tracer := exec.Command("strace", "-f", "-qq", "-o", "/dev/null", "-p", strconv.Itoa(v.cmd.Process.Pid),
		"-e", "trace=fsync,fdatasync", "-e", "inject=fsync,fdatasync:delay_exit=200000", "-e", "signal=none")
	if err := tracer.Start(); err != nil {
		f.t.Error(err)
		return
	}
	f.wait(500*time.Millisecond, time.Second)
	_ = tracer.Process.Signal(syscall.SIGINT) // it lets go of the server
	_ = tracer.Wait()
}
