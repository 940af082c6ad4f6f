package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"go.bug.st/serial"
	"golang.org/x/sync/errgroup"

	"benchmeet/api/certificate"
	"benchmeet/api/gen"
	"benchmeet/api/node"
	"benchmeet/domain/simulate"
)

const nodeHelp = `
Runs beside a bench: reads the counter box, asks the server what the bench has to
do, keeps the stamps of each run on disk and posts them until the server has
acknowledged them. The network may go, the server may be unplugged, the cable may
come out and go in again, and the node itself may be stopped and started again.

The token is one that the organiser made for a counter box (role node) at this
bench; it may stand in the environment as BENCHMEET_TOKEN. With --input the node
reads that sensor of a box with several. One node serves all benches at a box: --bench
b1,b2,b3 reads its inputs from --input on, with a token that is for these benches.

Where the server speaks https, the node sends nothing, its key least of all, before it
knows whom it talks to: --fingerprint is what the server prints at its start, --ca the
file of its page /trust; with neither, the authorities that this computer trusts. What
it cannot hand in stays on disk. Over http anybody on the network can read the key.

After ten minutes the node tells what the box's clock gains on this computer's, and
warns where that is beyond the bench's clock_ppm. It corrects nothing.

When standard input ends, what is kept is sent and the node ends.

With --check it needs no server: put a car on, and after 12 seconds it says whether the
signal is good enough to race on, or what is wrong and the one thing to do first.

Nor do these: --find says at which port a box is, --set sets something in the box and
prints its answer, --count says which sensor is turned by hand, and how often; with
--rolled, the way on the tape in mm, also the roller's circumference and how sure that is.

Examples:
  benchmeet node --server http://192.0.2.7:8080 --bench b1 --serial /dev/ttyUSB0
  benchmeet node --server https://192.0.2.7:8443 --fingerprint 5c1f... --bench b1 --serial /dev/ttyUSB0
  some-reader | benchmeet node --server http://192.0.2.7:8080 --bench b1 --input 2
  benchmeet node --server http://127.0.0.1:8080 --bench b1 --simulate 8000
  benchmeet node --server http://192.0.2.7:8080 --bench b1,b2,b3,b4 --serial /dev/ttyUSB0
  benchmeet node --find
  benchmeet node --serial /dev/ttyUSB0 --set "inputs 4" --set show
  benchmeet node --serial /dev/ttyUSB0 --count
  benchmeet node --serial /dev/ttyUSB0 --count --rolled 1885 --within 1
  benchmeet node --check --serial /dev/ttyUSB0 --marks 2

What the box writes:

`

// nodeSettings are the flags of "benchmeet node".
type nodeSettings struct {
	server, bench, token, spool, serial string
	ca, fingerprint                     string
	baud, input, marks                  int
	simulate, rolled, within            float64
	check, count, find                  bool
	set                                 []string
}

func newNodeCommand() *cobra.Command {
	var o nodeSettings
	cmd := &cobra.Command{
		Use:   "node",
		Short: "Hand in what the counter box of a bench measures",
		Long:  strings.TrimSpace(nodeHelp + node.Protocol),
		Args:  cobra.NoArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return runNode(cmd, o) },
	}
	f := cmd.Flags()
	f.StringVar(&o.server, "server", "", "address of the server")
	f.StringVar(&o.bench, "bench", "", "id of the bench; several at one box with commas")
	f.StringVar(&o.token, "token", "", "the counter box's token")
	f.StringVar(&o.ca, "ca", "", "file of the authority that is trusted to name the server (PEM or as /trust hands it out)")
	f.StringVar(&o.fingerprint, "fingerprint", "", "of the one key that is trusted to name the server, as it prints it at its start")
	f.StringVar(&o.spool, "spool", "benchmeet-spool", "folder in which unsent stamps are kept")
	f.StringVar(&o.serial, "serial", "", "serial line of the counter box; without it standard input is read")
	f.IntVar(&o.baud, "baud", 115200, "of the serial line")
	f.IntVar(&o.input, "input", 1, "the sensor of the box that is this bench's")
	f.BoolVar(&o.check, "check", false, "look at the signal of the box for 12 seconds and say whether it is good; needs no server")
	f.BoolVar(&o.count, "count", false, "say which sensor of the box is turned by hand, and how often; needs no server")
	f.BoolVar(&o.find, "find", false, "say at which port a box is that is unplugged and plugged in; needs no server")
	f.StringArrayVar(&o.set, "set", nil,
		"a setting to keep in the box, such as \"inputs 4\", or show; may be given several times; needs no server")
	f.IntVar(&o.marks, "marks", 1, "marks on the roller, for --check and --count")
	f.Float64Var(&o.rolled, "rolled", 0, "with --count: how far the roller came in these turns along a tape, in mm; says its circumference")
	f.Float64Var(&o.within, "within", 1, "with --rolled: by how much that may be off, either way, in mm")
	f.Float64Var(&o.simulate, "simulate", 0, "be a simulated bench with this many turns a minute")
	cmd.MarkFlagsMutuallyExclusive("check", "count", "find", "set", "server")
	return cmd
}

func runNode(cmd *cobra.Command, o nodeSettings) error {
	switch {
	case o.check:
		return checkSignal(cmd, o)
	case o.count:
		return countTurns(cmd, o)
	case o.find:
		return findBox(cmd.Context(), cmd.OutOrStdout(), serial.GetPortsList, findEvery)
	case len(o.set) > 0:
		return setBox(cmd, o)
	}
	if o.token == "" {
		o.token = os.Getenv("BENCHMEET_TOKEN")
	}
	if o.server == "" || o.bench == "" || o.token == "" {
		return errors.New("node needs --server, --bench and --token; see: benchmeet help node")
	}
	if o.input < 1 || o.input > node.MostInputs {
		return fmt.Errorf("--input is 1 to %d", node.MostInputs)
	}
	log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil))
	client, err := o.client(log)
	if err != nil {
		return err
	}
	benches := strings.Split(o.bench, ",")
	switch {
	case slices.Contains(benches, ""):
		return errors.New("--bench names a bench, or several with commas between them, as in b1,b2,b3")
	case len(benches) == 1:
	case o.serial == "" || o.simulate > 0:
		return errors.New("several benches share a counter box at a --serial line; start a node for each one otherwise")
	case o.input+len(benches)-1 > node.MostInputs:
		return fmt.Errorf("a box has at most %d inputs, and --bench names %d benches from input %d on", node.MostInputs, len(benches), o.input)
	}
	// Opened by the node each time, for a cable that is pulled comes back as a new port.
	line := node.NewShared(func(context.Context) (io.ReadCloser, error) {
		return serial.Open(o.serial, &serial.Mode{BaudRate: o.baud})
	})
	// One that ends takes the others with it: whoever started them sees it, and starts all again.
	all, ctx := errgroup.WithContext(cmd.Context())
	for i, bench := range benches {
		spool, err := node.OpenSpool(filepath.Join(o.spool, bench))
		if err != nil {
			return err
		}
		options := node.Options{
			Server: node.Server{
				Base: strings.TrimSuffix(o.server, "/"), Bench: bench, Token: o.token,
				HTTP: client,
			},
			Spool: spool, Input: o.input + i,
			Log: log,
		}
		if len(benches) > 1 {
			options.Log = log.With("bench", bench)
		}
		switch {
		case o.simulate > 0:
			box := simulatedBox{began: time.Now(), rpm: o.simulate}
			options.Made = box.make
		case o.serial != "":
			options.Open = line.Open
		default:
			options.Source = cmd.InOrStdin()
		}
		all.Go(func() error { return node.New(options).Run(ctx) })
	}
	return all.Wait()
}

// client is how the node talks to its server, once it knows whom it talks to.
func (o nodeSettings) client(log *slog.Logger) (*http.Client, error) {
	trusted, err := certificate.Trusted(o.ca, o.fingerprint)
	if err != nil {
		return nil, err
	}
	address, err := url.Parse(o.server)
	if err != nil || address.Host == "" || address.Scheme != "http" && address.Scheme != "https" {
		return nil, fmt.Errorf("--server %s is no address such as http://192.0.2.7:8080", o.server)
	}
	if address.Scheme == "http" {
		if o.ca != "" || o.fingerprint != "" {
			return nil, errors.New("--ca and --fingerprint are for a server on https://; over http nobody can tell who answers")
		}
		if ip := net.ParseIP(address.Hostname()); ip == nil || !ip.IsLoopback() {
			log.Warn("http is not encrypted: whoever is on the same network can read this box's key; see --fingerprint")
		}
	}
	transport, is := http.DefaultTransport.(*http.Transport)
	if !is {
		return nil, errors.New("no way to speak HTTP")
	}
	transport = transport.Clone()
	transport.TLSClientConfig = trusted
	return &http.Client{
		Timeout: 10 * time.Second, Transport: transport,
		// The server never sends a node elsewhere; whoever does is somebody else, and gets no key.
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}, nil
}

// simulatedBox is a counter box without a bench.
type simulatedBox struct {
	began time.Time
	rpm   float64
}

// make plays a run in real time, its start signal first.
func (b simulatedBox) make(ctx context.Context, o gen.BenchOrder, to chan<- node.Reading) {
	start := time.Since(b.began).Microseconds()
	p := simulate.Usual(simulate.Key(0, "node", *o.Run), b.rpm, *o.RaceS)
	p.StartUS, p.TailS = start, 1
	send := func(kind node.Kind, us int64) bool {
		if wait := time.Until(b.began.Add(time.Duration(us) * time.Microsecond)); wait > 0 {
			time.Sleep(wait)
		}
		select {
		case to <- node.Reading{Kind: kind, US: us, Arrived: time.Now()}:
			return true
		case <-ctx.Done():
			return false
		}
	}
	if !send(node.Start, start) {
		return
	}
	for _, us := range simulate.Run(p).Stamps {
		if !send(node.Pass, us) {
			return
		}
	}
}
