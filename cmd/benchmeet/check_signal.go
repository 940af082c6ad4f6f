package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"go.bug.st/serial"

	"benchmeet/api/node"
	"benchmeet/domain/signal"
	"benchmeet/domain/simulate"
)

// checkSeconds is how long a look at a signal takes at most.
const checkSeconds = 12

// errSignal is the answer to a signal that is not good, which is told in words before.
var errSignal = errors.New("the signal is not good enough to race on")

// checkSignal looks at the signal of a counter box and says in words whether it is good.
func checkSignal(cmd *cobra.Command, o nodeSettings) error {
	if o.marks < 1 || o.marks > 16 {
		return errors.New("--marks is 1 to 16: how many marks the roller has")
	}
	heard, err := o.listen(cmd)
	if err != nil {
		return err
	}
	report := signal.Look(heard.Passes, o.marks, heard.LastUS)
	if heard.Lines == 0 {
		return errors.New("no line came from the counter box: is its cable in, is it the right port, and is --baud that of the box?")
	}
	var b strings.Builder
	writeSignal(&b, report, heard)
	if _, err := io.WriteString(cmd.OutOrStdout(), b.String()); err != nil {
		return err
	}
	if !report.Good() || heard.Lost > 0 {
		return errSignal
	}
	return nil
}

// listen hears the box, or plays one.
func (o nodeSettings) listen(cmd *cobra.Command) (node.Heard, error) {
	if o.simulate > 0 {
		p := simulate.Usual(simulate.Key(0, "check"), o.simulate, checkSeconds)
		p.Marks = o.marks
		stamps := simulate.Run(p).Stamps
		return node.Heard{Passes: stamps, LastUS: p.StartUS + checkSeconds*1_000_000, Lines: len(stamps)}, nil
	}
	ctx, cancel := context.WithTimeout(cmd.Context(), checkSeconds*time.Second)
	defer cancel()
	open := func(context.Context) (io.ReadCloser, error) { return io.NopCloser(cmd.InOrStdin()), nil }
	if o.serial != "" {
		open = func(context.Context) (io.ReadCloser, error) {
			return serial.Open(o.serial, &serial.Mode{BaudRate: o.baud})
		}
		if _, err := fmt.Fprintf(cmd.ErrOrStderr(),
			"Put a car on and let it run at full speed for %d seconds. Keep fingers, hair and sleeves away from the rollers.\n",
			checkSeconds); err != nil {
			return node.Heard{}, err
		}
	}
	heard, err := node.Listen(ctx, open, o.input, slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil)))
	if err != nil {
		return heard, cannotOpen(err)
	}
	return heard, nil
}

// advice is what each fault looks like and the one thing to do first.
var advice = map[signal.Fault][2]string{
	signal.Silent: {
		"No mark was seen.",
		"Turn the roller slowly by hand: does the box's lamp blink at the mark? If not, move the sensor nearer.",
	},
	signal.TooShort: {"Too few marks were seen to say anything.", "Put a car on, let it run at full speed, and look again."},
	signal.Lamp:     {"The sensor sees a lamp on the mains, not the mark.", "Shade the sensor, and turn the roller by hand to check."},
	signal.Echo:     {"Marks are seen twice.", "Make the mark's edges clean and dark, or the mark wider, and move the sensor nearer."},
	signal.Missed:   {"Marks go by unseen.", "Clean the mark, make it wider, and move the sensor nearer."},
	signal.Stray:    {"Something else than the mark is seen.", "Shade the sensor from lamps and from the sun."},
	signal.Bursts:   {"Stamps came in a row, faster than any roller turns.", "Keep remote controls away, and shade the sensor."},
	signal.Marks: {
		"There are not as many marks on the roller as stated, or they are not where they were.",
		"Count the marks of one turn by hand and state them with --marks and on the bench's page.",
	},
	signal.Unsteady: {"The stamps scatter too much.", "Fix sensor and roller so that nothing shakes, and make the mark's edge straight."},
	signal.Breaks:   {"The signal stopped while the roller was turning.", "Check cable, plug and supply: move each while it runs."},
}

// writeSignal tells a report in words, with a plot.
func writeSignal(b *strings.Builder, r signal.Report, heard node.Heard) {
	switch {
	case !r.Good():
		says := advice[r.Fault]
		fmt.Fprintf(b, "NOT GOOD. %s\nDo this first: %s\n", says[0], says[1])
	case heard.Lost > 0:
		fmt.Fprint(b, "NOT GOOD. The mark is seen well, but not all of it comes here.\n")
	default:
		fmt.Fprintf(b, "GOOD. This signal is counted right up to %.0f turns a minute.\n", r.SafeRPM)
	}
	if heard.Lost > 0 {
		fmt.Fprintf(b, "The box counted %d passes that did not come over the cable: "+
			"check cable and plug, or set a quicker --baud in the box.\n", heard.Lost)
	}
	if heard.Restarts > 0 {
		fmt.Fprintf(b, "The box started again %d times while it was looked at: check its supply.\n", heard.Restarts)
	}
	if r.RPM > 0 {
		writeFigures(b, r)
	}
	b.WriteByte('\n')
	plot(b, heard)
}

func writeFigures(b *strings.Builder, r signal.Report) {
	fmt.Fprintf(b, "\n%8d passes in %.1f s, %.0f turns a minute\n", r.Passes, r.Seconds, r.RPM)
	fmt.Fprintf(b, "%8d marks a turn", r.Marks)
	for i, angle := range r.MarkAngles {
		sep := ", at "
		if i > 0 {
			sep = ", "
		}
		fmt.Fprintf(b, "%s%.0f°", sep, angle)
	}
	fmt.Fprintf(b, "\n%8.2f %% seen twice, nine of ten of these within %.0f µs\n", 100*r.Echoes, r.EchoUS)
	fmt.Fprintf(b, "%8.2f %% unseen\n%8.2f strays a second\n", 100*r.Misses, r.Strays)
	fmt.Fprintf(b, "%8.2f %% of a step is the scatter of a stamp\n", 100*r.Scatter)
}

// plot draws the steps between stamps over time, up to the last that was heard of the box.
func plot(b *strings.Builder, heard node.Heard) {
	const width, height = 64, 12
	drawn := signal.Draw(heard.Passes, heard.LastUS, width, height)
	if len(drawn.Dots) == 0 {
		return
	}
	var rows [height][width]rune
	for y := range rows {
		for x := range rows[y] {
			rows[y][x] = ' '
		}
	}
	for _, dot := range drawn.Dots {
		rows[height-1-dot.Row][dot.Column] = '•'
	}
	fmt.Fprintf(b, "Time from stamp to stamp (top: %.1f ms and more) over %.1f s. A good signal is one thin line.\n",
		drawn.TopUS/1000, drawn.Seconds)
	for _, row := range rows {
		fmt.Fprintf(b, "|%s\n", strings.TrimRight(string(row[:]), " "))
	}
	fmt.Fprintf(b, "+%s\n", strings.Repeat("-", width))
}
