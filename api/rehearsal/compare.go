package rehearsal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"

	"golang.org/x/sync/errgroup"
	"gonum.org/v1/gonum/stat/distuv"

	"benchmeet/api/gen"
	"benchmeet/domain/simulate"
)

// missesTruth is how often a sound comparison would be said to miss the truth.
const missesTruth = 1e-5

// referenceCars are how many cars a reference check is made with, at most.
const referenceCars = 3

// compare makes the reference check of the morning, slot by slot, and adopts the
// factors that come of it.
func (d *Day) compare(ctx context.Context) error {
	if !d.compares() {
		return nil
	}
	var cars []gen.ID
	for i := range min(referenceCars, len(d.plan.Benches)) {
		id, yes := fmt.Sprintf("reference-%d", i+1), true
		if _, err := d.order(ctx, "club", http.MethodPut, "/api/v1/cars/"+id, gen.CarBody{Number: 9901 + i, Reference: &yes}); err != nil {
			return err
		}
		cars = append(cars, id)
	}
	raceS := min(10, d.plan.Divisions[0].RaceS/5)
	if _, err := d.order(
		ctx, "club", http.MethodPost, d.meetPath("/reference-checks"), gen.BeginReferenceCheck{Cars: cars, RaceS: raceS},
	); err != nil {
		return err
	}
	c, err := until(ctx, d.desk, d.meetPath("/bench-comparison"), func(c gen.BenchComparison) bool { return len(c.Checks) > 0 })
	if err != nil {
		return err
	}
	if len(c.Checks) == 0 {
		return errors.New("a check was begun and is not there")
	}
	// The newest check is the one just begun.
	slots := c.Checks[len(c.Checks)-1].Slots
	for at := 0; at < len(slots); {
		// All runs of a slot go side by side; the next slot waits, for its cars are in this one.
		group, ctx := errgroup.WithContext(ctx)
		for slot := slots[at].Slot; at < len(slots) && slots[at].Slot == slot; at++ {
			run := slots[at]
			group.Go(func() error { return d.referenceRun(ctx, run, raceS) })
		}
		if err := group.Wait(); err != nil {
			return err
		}
	}
	return d.adopt(ctx)
}

// compares says whether there is a check to make.
func (d *Day) compares() bool { return d.plan.Compare && len(d.plan.Benches) > 1 }

func (d *Day) referenceRun(ctx context.Context, slot gen.ReferenceSlot, raceS float64) error {
	path := "/api/v1/benches/" + slot.Bench
	body := gen.ArmPractice{CarNumber: &slot.CarNumber, RaceS: raceS, ReferenceMeet: &d.plan.Meet}
	if _, err := d.order(ctx, "club", http.MethodPost, path+"/practice", body, fmt.Sprint("slot ", slot.Slot)); err != nil {
		return err
	}
	node := d.nodes[slot.Bench]
	asked := func(o gen.BenchOrder) bool { return o.Run != nil && *o.Run != node.reference }
	order, err := until(ctx, d.desk, path+"/order", asked)
	if err != nil {
		return err
	}
	if !asked(order) {
		return fmt.Errorf("bench %s was asked for a reference run and has none to make", slot.Bench)
	}
	node.reference = *order.Run
	key := simulate.Key(d.plan.Seed, "reference", slot.Bench, fmt.Sprint(slot.CarNumber, " ", slot.Slot))
	r := race{run: *order.Run, raceS: raceS, params: simulate.Usual(key, 6000+float64(slot.CarNumber%100)*200, raceS)}
	made, err := node.make(ctx, r, nil)
	if err == nil && !made.recorded {
		err = fmt.Errorf("reference run %s was acknowledged and not recorded", r.run)
	}
	return err
}

// adopt adopts what the comparison offers.
func (d *Day) adopt(ctx context.Context) error {
	done := func(c gen.BenchComparison) bool {
		n := len(c.Checks)
		return n > 0 && c.Checks[n-1].Done == len(c.Checks[n-1].Slots)
	}
	c, err := until(ctx, d.desk, d.meetPath("/bench-comparison"), done)
	if err != nil {
		return err
	}
	if !done(c) {
		return fmt.Errorf("all reference runs were made and are not there: %+v", c.Checks)
	}
	if c.Offer.Offer == nil {
		return fmt.Errorf("no factors are offered: %+v", c.Offer.Not)
	}
	_, err = d.post(ctx, "/factors", gen.AdoptFactors{Offer: *c.Offer.Offer, Reason: gen.Reason{Code: "benches-differ"}})
	return err
}

// factorsTrue holds the adopted factors to the rollers as they really are: a bench
// whose roller is larger than the organiser measured turns less often and reads
// low. The true factor is taken over the mean of all benches, as the adopted one is.
func (d judge) factorsTrue(ev Evidence) error {
	if !d.compares() {
		return nil
	}
	set, there := ev.State.FactorsInForce()
	if !there {
		return errors.New("no factors are in force")
	}
	mean := 0.0
	for _, b := range d.plan.Benches {
		mean -= math.Log(b.Reads) / float64(len(d.plan.Benches))
	}
	for _, b := range d.plan.Benches {
		truth := math.Exp(-math.Log(b.Reads) - mean)
		for _, f := range set.Factors {
			got, u := float64(f.FactorPPM)/1e6, float64(f.UPPM)/1e6
			student := distuv.StudentsT{Sigma: 1, Nu: float64(f.Degrees)}
			if f.Bench == b.ID && math.Abs(got-truth) > student.Quantile(1-missesTruth/2)*u {
				return fmt.Errorf("bench %s was given the factor %.4f ± %.4f and truly has %.4f", b.ID, got, u, truth)
			}
		}
	}
	return nil
}
