package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"
)

const (
	// findPatience is how long somebody has to unplug a counter box and plug it in again.
	findPatience = time.Minute
	findEvery    = 200 * time.Millisecond
)

// findBox says at which port a counter box is: the one that comes when it is plugged in.
func findBox(ctx context.Context, out io.Writer, ports func() ([]string, error), every time.Duration) error {
	if _, err := fmt.Fprintln(out, "Unplug the counter box, wait a moment, and plug it in."); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, findPatience)
	defer cancel()
	before, err := ports()
	if err != nil {
		return fmt.Errorf("the ports of this computer cannot be listed: %w", err)
	}
	for {
		select {
		case <-time.After(every):
		case <-ctx.Done():
			return errors.New("no counter box was plugged in: does its cable carry data, and does its lamp light up?")
		}
		now, err := ports()
		if err != nil {
			return fmt.Errorf("the ports of this computer cannot be listed: %w", err)
		}
		for _, port := range now {
			if !slices.Contains(before, port) {
				_, err := fmt.Fprintf(out, "Found: --serial %s\n", port)
				return err
			}
		}
		before = now
	}
}
