package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"benchmeet/api/node"
)

// quietAfter is how long a box is silent when it has said all of its answer.
const quietAfter = 400 * time.Millisecond

// setBox sends settings to a counter box, one after the other, and prints its answers.
func setBox(cmd *cobra.Command, o nodeSettings) error {
	for i, words := range o.set {
		if strings.ContainsAny(words, "\r\n") || len(words) > 60 {
			return errors.New("--set takes one setting of at most 60 letters, such as \"inputs 4\"")
		}
		if strings.HasPrefix(words, "baud ") && i < len(o.set)-1 {
			return errors.New("set the speed of the line last: behind it the box answers at another speed")
		}
	}
	ctx, cancel := context.WithCancel(cmd.Context())
	defer cancel()
	cable, greeting, err := o.greeted(ctx)
	if err != nil {
		return err
	}
	defer cable.line.Close()
	for _, words := range o.set {
		if _, err := io.WriteString(cable.line, "\n"+words+"\n"); err != nil {
			return fmt.Errorf("nothing can be sent to the counter box: %w", err)
		}
		again, err := cable.answers(cmd, ctx, greeting, words)
		if err != nil {
			return err
		}
		if baud, changed := strings.CutPrefix(words, "baud "); changed {
			return sayTo(cmd, "From now on give --baud %s.", baud)
		}
		if again {
			if greeting, err = cable.hello(ctx, &greeting); err != nil {
				return err
			}
			if err := sayTo(cmd, "The box has started again."); err != nil {
				return err
			}
		}
	}
	return nil
}

// answers prints what the box says to a setting, until it is quiet; again says that it
// starts again behind it.
func (c *boxCable) answers(cmd *cobra.Command, ctx context.Context, greeting node.Greeting, words string) (again bool, err error) {
	if strings.TrimSpace(words) == "restart" {
		return true, nil
	}
	any := false
	for until := time.Now().Add(boxAnswers); time.Now().Before(until); {
		l, in, err := c.next(ctx, time.Until(until))
		switch {
		case err != nil:
			return false, err
		case !in:
		case l.Kind == node.Say && strings.HasPrefix(l.Words, "started: "): // by the setting before
		case l.Kind == node.Hello && l.Hello.Boot != greeting.Boot:
			return false, errors.New("the counter box started again by itself: check its supply")
		case l.Kind == node.Say && strings.HasPrefix(l.Words, "not understood"):
			return false, fmt.Errorf("the counter box does not know %q; it says: %s", words, l.Words)
		case l.Kind == node.Say:
			if err := sayTo(cmd, "%s", l.Words); err != nil {
				return false, err
			}
			if strings.HasPrefix(l.Words, "kept") {
				return strings.HasSuffix(l.Words, "again"), nil
			}
			any, until = true, time.Now().Add(quietAfter)
		}
	}
	if !any {
		return false, fmt.Errorf("the counter box does not answer to %q", words)
	}
	return false, nil
}
