package rehearsal

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"github.com/google/uuid"
	"golang.org/x/sync/errgroup"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/simulate"
)

// Day plays a plan.
type Day struct {
	plan    Plan
	desk    *Client // the organiser's
	nodes   map[string]*node
	screens []*screen
	pace    Pace
	log     *slog.Logger

	mu     sync.Mutex
	acks   []ack
	known  int64 // how far the log of the meet went with the newest receipt
	sent   []sent
	rounds map[string]int // drawn rounds by division
	wave   int
	// clock is the day's own; nil where it is somebody else's. Nothing is called from until on,
	// where that is given.
	clock *Clock
	until time.Time
	// calls is how many heats were called by the timetable, which is the day plan as it stood
	// before the first race.
	calls     int
	timetable *gen.DayPlan
	// disturbed says that servers and what is between fail on purpose.
	disturbed bool
	// visit is empty but in a day that was left and gone on with: orders of then
	// and of now have different ids.
	visit string
}

// ack is an order that was acknowledged.
type ack struct {
	stream string // "meet" or "club"
	key    string
	seq    int64
	events []string
}

// Options are what a day needs.
type Options struct {
	Base string
	// Token is the organiser's secret.
	Token string
	Plan  Plan
	Pace  Pace
	Log   *slog.Logger
	HTTP  *http.Client
	// Clock is the server's clock, where the day may step it: then it is played by its
	// timetable, each thing takes as long as it would, and no time passes between. Until is from
	// when on nothing is called any more; zero plays to the end. Such a day is left, and not
	// published.
	Clock *Clock
	Until time.Time
	// Disturbed says that the server fails on purpose: a run that it has may be recorded a
	// while after its last chunk was acknowledged, by a sweep.
	Disturbed bool
}

// New prepares a day.
func New(o Options) *Day {
	if o.HTTP == nil {
		o.HTTP = &http.Client{Timeout: 30 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 64}}
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Day{
		plan: o.Plan, desk: &Client{Base: o.Base, Token: o.Token, HTTP: o.HTTP}, pace: o.Pace, log: o.Log, clock: o.Clock, until: o.Until,
		nodes: map[string]*node{}, rounds: map[string]int{}, disturbed: o.Disturbed,
	}
}

// key is the id of an order: it follows from the seed and what the order is, so
// that the server of a rehearsal draws the same lots each time.
func (d *Day) key(parts ...string) string {
	if d.visit != "" {
		parts = append(parts, d.visit)
	}
	a := simulate.Key(d.plan.Seed, append([]string{"order", d.plan.Meet}, parts...)...)
	b := simulate.Key(d.plan.Seed, append([]string{"order again", d.plan.Meet}, parts...)...)
	var id uuid.UUID
	for i := range 8 {
		id[i], id[8+i] = byte(a>>(8*i)), byte(b>>(8*i))
	}
	id[6], id[8] = id[6]&0x0f|0x80, id[8]&0x3f|0x80 // version 8: made by our own rule
	return id.String()
}

// order gives an order to the meet or the club and notes that it was
// acknowledged.
func (d *Day) order(ctx context.Context, stream, method, path string, body any, what ...string) (gen.Receipt, error) {
	key := d.key(append([]string{method, path}, what...)...)
	receipt, err := d.desk.Order(ctx, method, path, key, body)
	if err != nil {
		return receipt, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	d.acks = append(d.acks, ack{stream, key, receipt.Seq, receipt.Events})
	if stream == "meet" {
		d.known = max(d.known, receipt.Seq)
	}
	return receipt, nil
}

// page reads a page of the meet that is not older than the newest receipt: another server may
// answer than the one that gave it.
func (d *Day) page(ctx context.Context, path string, into any) error {
	d.mu.Lock()
	known := d.known
	d.mu.Unlock()
	return d.desk.Get(ctx, fmt.Sprintf("%s?at_least=%d", d.meetPath(path), known), into)
}

func (d *Day) meetPath(parts string) string { return "/api/v1/meets/" + d.plan.Meet + parts }

func (d *Day) post(ctx context.Context, path string, body any, what ...string) (gen.Receipt, error) {
	return d.order(ctx, "meet", http.MethodPost, d.meetPath(path), body, what...)
}

func (d *Day) put(ctx context.Context, path string, body any) error {
	_, err := d.order(ctx, "meet", http.MethodPut, d.meetPath(path), body)
	return err
}

// racing is the step of a day in which all of it is raced.
const racing = "racing"

// Play plays the whole day, or as far as it is to go.
func (d *Day) Play(ctx context.Context) error {
	for _, step := range []struct {
		name string
		do   func(context.Context) error
	}{
		{"setting up benches", d.setUp},
		{"planning", d.planMeet},
		{"entries", d.enter},
		{"inspection", inspector{d}.inspect},
		{"comparing benches", d.compare},
		{"practice", d.practise},
		{racing, d.raceAll},
		{"packs", inspector{d}.returnPacks},
		{"publishing", d.publish},
	} {
		if err := step.do(ctx); err != nil {
			return fmt.Errorf("%s: %w", step.name, err)
		}
		d.log.Info("rehearsal", "done", step.name)
		if step.name == racing && !d.until.IsZero() {
			return nil
		}
	}
	return nil
}

// Topics are what a public screen of the day listens to.
func (d *Day) Topics() []string {
	topics := []string{"board", "meet", "speed"}
	for _, div := range d.plan.Divisions {
		topics = append(topics, "standings/"+div.ID, "bracket/"+div.ID)
	}
	return topics
}

// Listen puts screens up that listen until ctx ends; every fourth is slow.
func (d *Day) Listen(ctx context.Context, screens int) {
	for i := range screens {
		slow := time.Duration(0)
		if i%4 == 3 {
			slow = 20 * time.Millisecond
		}
		s := newScreen(d.desk.Base, d.plan.Meet, d.Topics(), slow)
		d.screens = append(d.screens, s)
		go s.listen(ctx)
	}
}

// setUp registers the benches and gives each counter box its token.
func (d *Day) setUp(ctx context.Context) error {
	for _, b := range d.plan.Benches {
		mm := b.CircumferenceMM
		body := gen.BenchBody{Number: b.Number, CircumferenceMm: mm}
		if _, err := d.order(ctx, "club", http.MethodPut, "/api/v1/benches/"+b.ID, body); err != nil {
			return err
		}
		var made gen.NewToken
		wish := gen.MakeToken{Role: gen.MakeTokenRoleNode, Label: fmt.Sprintf("counter box %d", b.Number), Benches: &[]gen.ID{b.ID}}
		if err := d.desk.do(ctx, http.MethodPost, "/api/v1/tokens", "", wish, &made); err != nil {
			return err
		}
		client := &Client{Base: d.desk.Base, Token: made.Secret, HTTP: d.desk.HTTP}
		d.nodes[b.ID] = newNode(b, client, d.plan, d.pace)
		d.nodes[b.ID].hurry, d.nodes[b.ID].disturbed = true, d.disturbed
	}
	return nil
}

// incidents is the table that is fixed beforehand (common practice).
var incidents = []gen.IncidentRule{
	{Incident: gen.IncidentRuleIncidentOffRollers, Consequence: gen.IncidentRuleConsequenceKeepDistance},
	{Incident: gen.IncidentRuleIncidentStalled, Consequence: gen.IncidentRuleConsequenceKeepDistance},
	{Incident: gen.IncidentRuleIncidentFalseStart, Consequence: gen.IncidentRuleConsequenceRerunLane},
	{Incident: gen.IncidentRuleIncidentBenchFailed, Consequence: gen.IncidentRuleConsequenceRerunLane},
}

func (d *Day) planMeet(ctx context.Context) error {
	p := d.plan
	place := p.Place
	body := gen.PlanMeet{
		Id: p.Meet,
		Plan: gen.Plan{
			Name: p.Name, Place: &place, Date: p.Date, Opens: wire.Opt(p.Opens), Closes: wire.Opt(p.Closes), TimeZone: wire.Opt(p.TimeZone),
			PackingMin: wire.Opt(p.PackingMin), PrizesMin: wire.Opt(p.PrizesMin),
		},
		Rules: &gen.Rules{
			ProtestS: p.ProtestS, CallS: p.CallS, RerunsPerEntry: 2, Tie: gen.RulesTieNextBest, DidNotFinish: gen.RulesDidNotFinishKeepDistance,
			Benches: gen.RulesBenchesReport, Late: gen.RulesLateNextRound, HandCounts: gen.Ranks, Incidents: &incidents,
		},
	}
	// Factors that are adopted must also be used, or the check would change nothing.
	if d.compares() {
		body.Rules.Benches = gen.RulesBenchesCorrect
	}
	if p.Checks {
		warn := gen.GateRule("warn")
		body.Rules.BatteryGate, body.Rules.InspectionGate = &warn, &warn
	}
	if _, err := d.order(ctx, "meet", http.MethodPost, "/api/v1/meets", body); err != nil {
		return err
	}
	for _, b := range p.Benches {
		if err := d.put(ctx, "/benches/"+b.ID, nil); err != nil {
			return err
		}
	}
	for _, div := range p.Divisions {
		if err := d.put(ctx, "/divisions/"+div.ID, d.divisionBody(div)); err != nil {
			return err
		}
	}
	return nil
}

func (d *Day) divisionBody(v Division) gen.DivisionBody {
	rounds, rule, wheel := v.Rounds, gen.StageBodyRule(v.Rule), 26.0
	release := "Hold the car above the rollers with the motor running; let go on the signal."
	body := gen.DivisionBody{
		Name: v.Name, AgeFrom: v.AgeFrom, AgeTo: v.AgeTo,
		Class: gen.CarClass{Name: "Two-cell open class", LapM: 1, WheelMm: &wheel, Release: &release},
		Stages: []gen.StageBody{{
			Kind: gen.TimedRounds, Rounds: &rounds, RaceS: v.RaceS, Lanes: v.Lanes, Rule: &rule,
		}},
	}
	if d.plan.Checks {
		body.Class.Battery, body.Class.Checklist = classTable()
	}
	if len(v.Stages) > 0 {
		body.Stages = v.Stages
	} else if v.Knockout > 0 {
		entries, third := v.Knockout, v.Knockout >= 4
		body.Stages = append(body.Stages, gen.StageBody{
			Kind: gen.Knockout, RaceS: v.RaceS, Lanes: 2, Entries: &entries, ThirdPlace: &third,
		})
	}
	return body
}

func entryID(number int) string { return fmt.Sprintf("e-%d", number) }

func (d *Day) enter(ctx context.Context) error {
	for _, e := range d.plan.Entries {
		id, birth := entryID(e.Number), e.Birth
		car := e.Car
		body := gen.TakeEntry{
			Id: &id, Division: e.Division, StartNumber: e.Number, Car: &car,
			Person: &gen.PersonBody{
				Name: e.Name, DisplayName: e.Nickname, BirthDate: &birth, OnScreen: true, InResults: true,
			},
		}
		if _, err := d.post(ctx, "/entries", body, id); err != nil {
			return err
		}
		if e.Absent {
			continue
		}
		if _, err := d.post(ctx, "/entries/"+id+"/check-in", gen.CheckIn{There: true}); err != nil {
			return err
		}
	}
	for _, div := range d.plan.Divisions {
		if _, err := d.post(ctx, "/divisions/"+div.ID+"/entries-closed?sure=true", gen.CloseEntries{Closed: true}); err != nil {
			return err
		}
	}
	return nil
}

// practise makes one practice run on each bench, as the workshop before a meet
// does.
func (d *Day) practise(ctx context.Context) error {
	group, ctx := errgroup.WithContext(ctx)
	for i, b := range d.plan.Benches {
		group.Go(func() error {
			e := d.plan.Entries[i%len(d.plan.Entries)]
			run := fmt.Sprintf("%s-practice-%s", d.plan.Meet, b.ID)
			key := simulate.Key(d.plan.Seed, "practice", b.ID)
			r := race{run: run, car: fmt.Sprint(e.Number), raceS: 10, params: simulate.Usual(key, e.RPM, 10)}
			s, err := d.nodes[b.ID].make(ctx, r, nil)
			if err == nil && !s.recorded {
				err = fmt.Errorf("practice run %s was acknowledged and not recorded", run)
			}
			return err
		})
	}
	return group.Wait()
}
