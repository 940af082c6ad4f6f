package live

import (
	"net/netip"

	"benchmeet/domain/refusal"
)

// places shares out who may listen. The public has most of them and no address
// more than its part, so that one machine cannot have them all; the rest is kept
// for those who are signed in, so that strangers keep no bench from its work.
type places struct {
	most, each, kept int

	public, signedIn int
	by               map[share]int // by address for the public, by caller for the others
}

// keptPart is the part of all places that is kept for those who are signed in.
const keptPart = 8

func newPlaces(most, each int) places {
	return places{most: most, each: each, kept: most / keptPart, by: map[share]int{}}
}

// take gives a place, or says with a refusal why there is none.
func (p *places) take(who Who) error {
	key := holder(who)
	full := p.public+p.signedIn >= p.most
	if who.Caller == "" {
		full = full || p.public >= p.most-p.kept
	}
	switch {
	case full:
		return refusal.New("feed-full")
	case p.by[key] >= p.each:
		return refusal.New("feed-share")
	}
	p.by[key]++
	if who.Caller == "" {
		p.public++
	} else {
		p.signedIn++
	}
	return nil
}

// free gives a place back.
func (p *places) free(who Who) {
	key := holder(who)
	if p.by[key]--; p.by[key] == 0 {
		delete(p.by, key)
	}
	if who.Caller == "" {
		p.public--
	} else {
		p.signedIn--
	}
}

// share is whose part of the places a listener has: a caller's, or an address's.
type share struct{ caller, address string }

// holder is whose share a place counts in. An IPv6 host has a whole /64 to choose
// its addresses from, so that is one.
func holder(who Who) share {
	if who.Caller != "" {
		return share{caller: who.Caller}
	}
	if a, err := netip.ParseAddr(who.Address); err == nil && a.Unmap().Is6() {
		if block, err := a.WithZone("").Prefix(64); err == nil {
			return share{address: block.String()}
		}
	}
	return share{address: who.Address}
}
