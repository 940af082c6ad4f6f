package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"
	"go.bug.st/serial"

	"benchmeet/api/node"
)

// boxAnswers is how long a counter box may take to say hello or to answer: it says hello
// every two seconds, and keeping what is set takes it a second.
const boxAnswers = 6 * time.Second

// errNoBox is said where something opens and says nothing.
var errNoBox = errors.New("no counter box says hello: is its cable in, is it the right port, and is --baud that of the box?")

// boxCable is the cable to a counter box, at which a person talks to it.
type boxCable struct {
	line io.ReadWriteCloser
	said <-chan node.Line
}

// openCable opens the serial line and hears it until ctx ends. Lines that are spoiled are
// passed over.
func (o nodeSettings) openCable(ctx context.Context) (*boxCable, error) {
	if o.serial == "" {
		return nil, errors.New("say which port the counter box is at with --serial; --find finds it")
	}
	line, err := serial.Open(o.serial, &serial.Mode{BaudRate: o.baud})
	if err != nil {
		return nil, cannotOpen(err)
	}
	said := make(chan node.Line)
	go func() {
		defer close(said)
		scan := bufio.NewScanner(line)
		for scan.Scan() {
			l, err := node.ParseLine(scan.Text())
			if err != nil {
				continue
			}
			select {
			case said <- l:
			case <-ctx.Done():
				return
			}
		}
	}()
	return &boxCable{line, said}, nil
}

// greeted opens the cable and waits until the box has said hello. Whoever it gives a cable
// closes it.
func (o nodeSettings) greeted(ctx context.Context) (*boxCable, node.Greeting, error) {
	cable, err := o.openCable(ctx)
	if err != nil {
		return nil, node.Greeting{}, err
	}
	greeting, err := cable.hello(ctx, nil)
	if err != nil {
		_ = cable.line.Close() // nothing was heard of it
		return nil, node.Greeting{}, err
	}
	return cable, greeting, nil
}

// cannotOpen says what to do where the box's port or pipe does not open.
func cannotOpen(err error) error {
	return fmt.Errorf("the counter box cannot be opened; is it plugged in, and may you read it? (%w)", err)
}

// next waits for a line; a time that runs out and a cable that is pulled are told apart.
func (c *boxCable) next(ctx context.Context, patience time.Duration) (l node.Line, in bool, err error) {
	select {
	case l, there := <-c.said:
		if !there {
			return l, false, errors.New("the counter box is gone: is its cable in?")
		}
		return l, true, nil
	case <-time.After(patience):
		return l, false, nil
	case <-ctx.Done():
		return l, false, ctx.Err()
	}
}

// hello waits until the box says what it is, with another start than the given one.
func (c *boxCable) hello(ctx context.Context, but *node.Greeting) (node.Greeting, error) {
	for until := time.Now().Add(boxAnswers); ; {
		l, in, err := c.next(ctx, time.Until(until))
		if err != nil {
			return node.Greeting{}, err
		}
		if !in {
			return node.Greeting{}, errNoBox
		}
		if l.Kind == node.Hello && (but == nil || l.Hello.Boot != but.Boot) {
			return l.Hello, nil
		}
	}
}

// sayTo tells the person at the terminal.
func sayTo(cmd *cobra.Command, format string, args ...any) error {
	_, err := fmt.Fprintf(cmd.OutOrStdout(), format+"\n", args...)
	return err
}
