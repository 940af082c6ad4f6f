package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/gorilla/websocket"

	"benchmeet/api/gen"
)

// The hall of BenchmarkFullHall.
const (
	hallDivisions = 4
	hallCars      = 50 // in each
	hallPhones    = 200
	hallScreens   = 40
	hallEvery     = 200 * time.Millisecond // an order
)

// BenchmarkFullHall is how long an order takes to be answered in a day of 200 entries
// while 200 phones have a car's sheet open and 40 screens hang in the hall: calls, cars
// made ready, starts and whole runs, five a second, over HTTP. The server has a core of
// its own, all clients share the other. "nobody" is the floor: the same without phones
// and screens. kB/sheet is what a sheet gets for each order, frames/sheet how often.
//
// It takes so many orders whatever -benchtime says.
func BenchmarkFullHall(b *testing.B) {
	if _, err := exec.LookPath("taskset"); err != nil {
		b.Skip("taskset is not there: it keeps server and clients on cores of their own")
	}
	onCore(b, 1)
	h := newFullHall(b, hallDivisions, hallCars)
	next := h.orders()
	for range 180 { // a part of the day is over
		h.give(next())
	}
	b.Run("nobody", func(b *testing.B) { h.measure(b, next, 100) })
	if b.Failed() {
		return
	}
	h.fill(b)
	b.Run(fmt.Sprintf("phones=%d/screens=%d", hallPhones, hallScreens), func(b *testing.B) { h.measure(b, next, 300) })
}

// coreZero starts a program that stays on the first core.
var coreZero = []string{"taskset", "-c", "0"}

// onCore keeps this process, with all that it starts, on one core until the end.
func onCore(b *testing.B, core int) {
	set := func(cores string) {
		if out, err := exec.Command("taskset", "-a", "-c", "-p", cores, fmt.Sprint(os.Getpid())).CombinedOutput(); err != nil {
			b.Skipf("this machine has no core %s to spare: %s", cores, out)
		}
	}
	set(fmt.Sprint(core))
	b.Cleanup(func() { set("0-" + fmt.Sprint(core)) })
}

// fullHall is a server in a process of its own with a meet that is being raced.
type fullHall struct {
	b      *testing.B
	base   string
	secret string
	client *http.Client

	frames, size atomic.Int64 // that sheets got
}

// newFullHall is a day of so many divisions, drawn, with so many cars in each.
func newFullHall(b *testing.B, divisions, cars int) *fullHall {
	v := &victim{t: b, under: coreZero}
	address := fmt.Sprintf("127.0.0.1:%d", freePort(b))
	v.base = "http://" + address
	v.args = []string{"serve", "--listen", address, "--data", b.TempDir()}
	h := &fullHall{b: b, base: v.base, secret: v.start("--new-sign-in"), client: &http.Client{}}
	b.Cleanup(v.kill)
	h.give(given{"POST", "/meets", `{"id":"spring","plan":{"name":"Harbour Hall spring meet","date":"2027-04-17"}}`})
	for i := 1; i <= 2; i++ {
		h.give(given{"PUT", fmt.Sprintf("/benches/b%d", i), fmt.Sprintf(`{"number":%d,"circumference_mm":94.25}`, i)})
		h.give(given{"PUT", fmt.Sprintf("/meets/spring/benches/b%d", i), ""})
	}
	for d := range divisions {
		of := fmt.Sprintf("/meets/spring/divisions/band-%d", d)
		h.give(given{"PUT", of, fmt.Sprintf(`{"name":"Band %d","age_from":0,"age_to":0,"class":{"name":"Open class","lap_m":1},
			"stages":[{"kind":"timed-rounds","rounds":2,"race_s":10,"lanes":2,"rule":"best"}]}`, d)})
		for i := range cars {
			n := d*cars + i + 1
			h.give(given{"POST", "/meets/spring/entries", fmt.Sprintf(`{"id":"e%d","division":"band-%d","start_number":%d,
				"person":{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}}`, n, d, n, n, n)})
			h.give(given{"POST", fmt.Sprintf("/meets/spring/entries/e%d/check-in", n), `{"there":true}`})
		}
		h.give(given{"POST", of + "/entries-closed", `{"closed":true}`})
		h.give(given{"POST", of + "/draw", ""})
	}
	return h
}

// given is a request that changes the day.
type given struct{ method, path, body string }

func (h *fullHall) give(o given) []byte {
	req, err := http.NewRequest(o.method, h.base+"/api/v1"+o.path, bytes.NewReader([]byte(o.body)))
	if err != nil {
		h.b.Fatal(err)
	}
	req.Header.Set("Authorization", "Bearer "+h.secret)
	if o.method != http.MethodGet {
		req.Header.Set("Idempotency-Key", uuid.Must(uuid.NewV7()).String())
	}
	if o.body != "" {
		req.Header.Set("Content-Type", "application/json")
	}
	res, err := h.client.Do(req)
	if err != nil {
		h.b.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode >= http.StatusMultipleChoices {
		h.b.Fatalf("%s %s: %d %s %v", o.method, o.path, res.StatusCode, body, err)
	}
	return body
}

// orders is the race, heat after heat: a call, two cars made ready, the start, two runs.
func (h *fullHall) orders() (next func() given) {
	var heats gen.HeatList
	if err := json.Unmarshal(h.give(given{"GET", "/meets/spring/heats", ""}), &heats); err != nil {
		h.b.Fatal(err)
	}
	var waiting []given
	raced := 0
	return func() given {
		if len(waiting) == 0 {
			heat := heats.Heats[raced]
			raced++
			of := "/meets/spring/heats/" + heat.Id
			waiting = []given{{"POST", of + "/call", `{"benches":["b1","b2"]}`}}
			for i, l := range heat.Lanes {
				waiting = append(waiting, given{
					"POST", of + "/ready",
					fmt.Sprintf(`{"bench":"b%d","start_number":%d}`, i+1, l.Racer.StartNumber),
				})
			}
			waiting = append(waiting, given{"POST", of + "/start", ""})
			for i := range heat.Lanes {
				waiting = append(waiting, h.run(fmt.Sprintf("b%d", i+1), fmt.Sprintf("%s-L%d-1", heat.Id, i+1), int64(6500+37*raced)))
			}
		}
		o := waiting[0]
		waiting = waiting[1:]
		return o
	}
}

// run is a whole run of ten seconds in one chunk.
func (h *fullHall) run(bench, run string, periodUS int64) given {
	stamps := []int64{}
	for at := int64(1_000_500); at < 11_100_000; at += periodUS {
		stamps = append(stamps, at)
	}
	body, err := json.Marshal(map[string]any{
		"boot": "00000000000000aa", "run": run, "number": 0, "stamps_us": stamps,
		"last": map[string]any{
			"chunks": 1, "stamps": len(stamps), "meet": "spring",
			"start_source": "bench_clock", "start_us": 1_000_000, "duration_us": 10_000_000,
		},
	})
	if err != nil {
		h.b.Fatal(err)
	}
	return given{"POST", "/benches/" + bench + "/chunks", string(body)}
}

// fill opens the sheets and the screens. Each has an address of its own, as in a hall.
func (h *fullHall) fill(b *testing.B) {
	for n := range hallPhones {
		h.listen(b, n, fmt.Sprintf("meet,car/e%d", n+1), true)
	}
	for n := range hallScreens {
		d := n % hallDivisions
		h.listen(b, hallPhones+n, fmt.Sprintf("meet,board,speed,standings/band-%d,bracket/band-%d", d, d), false)
	}
	time.Sleep(time.Second) // they are welcomed
	h.frames.Store(0)
	h.size.Store(0)
}

func (h *fullHall) listen(b *testing.B, n int, topics string, sheet bool) {
	from := &net.TCPAddr{IP: net.IPv4(127, 1, byte(n/200), byte(1+n%200))}
	dialer := websocket.Dialer{NetDial: (&net.Dialer{LocalAddr: from}).Dial, EnableCompression: true}
	conn, _, err := dialer.Dial("ws"+strings.TrimPrefix(h.base, "http")+"/api/v1/meets/spring/live?topics="+topics, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { conn.Close() })
	go func() {
		for {
			_, frame, err := conn.ReadMessage()
			if err != nil {
				return // the hall is closed
			}
			if sheet && !bytes.HasPrefix(frame, []byte(`{"topic":"still"`)) {
				h.frames.Add(1)
				h.size.Add(int64(len(frame)))
			}
		}
	}()
}

// measure gives so many orders, one at a time at their hours, and reports how long their answers took.
func (h *fullHall) measure(b *testing.B, next func() given, orders int) {
	h.frames.Store(0)
	h.size.Store(0)
	took := make([]time.Duration, 0, orders)
	began := time.Now()
	for n := range orders {
		time.Sleep(time.Until(began.Add(time.Duration(n) * hallEvery)))
		o := next()
		from := time.Now()
		h.give(o)
		took = append(took, time.Since(from))
	}
	time.Sleep(time.Second)
	slices.Sort(took)
	at := func(share float64) float64 {
		return float64(took[min(orders-1, int(share*float64(orders)))].Microseconds()) / 1000
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(at(0.5), "p50-ms")
	b.ReportMetric(at(0.99), "p99-ms")
	b.ReportMetric(float64(h.size.Load())/1000/float64(hallPhones*orders), "kB/sheet")
	b.ReportMetric(float64(h.frames.Load())/float64(hallPhones*orders), "frames/sheet")
}
