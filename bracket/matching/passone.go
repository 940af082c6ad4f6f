package matching

import "math"

// slackOne returns the vertex with the least value + values[x] - weights[x], a free one if possible, and that slack;
// or none and the value where that is less.
func slackOne(weights, values []int64, value int64, mate []int32, v int32) (partner int32, least int64) {
	values, mate = values[:len(weights)], mate[:len(weights)]
	partner, least = none, value
	for x, w := range weights {
		slack := value + values[x] - w
		if slack > least || int32(x) == v {
			continue
		}
		if slack < least || partner != none && mate[partner] != none && mate[x] == none {
			least = slack
			partner = int32(x)
		}
	}
	return partner, least
}

// lookOne lowers key to value - weight where that is less, and returns the vertex with the least key + open, or
// none if no vertex is open.
func lookOne(key []int64, from []int32, open, weights []int64, value int64, v int32) int32 {
	key, from, open = key[:len(weights)], from[:len(weights)], open[:len(weights)]
	nearest, least := none, int64(never)
	for x, w := range weights {
		k := key[x]
		if d := value - w; d < k {
			k = d
			key[x] = d
			from[x] = v
		}
		if c := k + open[x]; c < least {
			least = c
			nearest = int32(x)
		}
	}
	return nearest
}

func collectOne(key []int64, from []int32, weights []int64, value int64, v int32) {
	key, from = key[:len(weights)], from[:len(weights)]
	for x, w := range weights {
		if d := value - w; d < key[x] {
			key[x] = d
			from[x] = v
		}
	}
}

func foldOne(key []int64, from []int32, other []int64, otherFrom []int32) {
	key, from, otherFrom = key[:len(other)], from[:len(other)], otherFrom[:len(other)]
	for x, k := range other {
		if k < key[x] {
			key[x] = k
			from[x] = otherFrom[x]
		}
	}
}

func nearestOne(key, open []int64) int32 {
	open = open[:len(key)]
	nearest, least := none, int64(never)
	for x, k := range key {
		if c := k + open[x]; c < least {
			least = c
			nearest = int32(x)
		}
	}
	return nearest
}

// bridgeOne returns the vertex with the least value + values[x] - weights[x] among some, and that in gap.
func bridgeOne(gap []int64, among []int32, weights, values []int64, value int64) int32 {
	to, least := none, int64(math.MaxInt64)
	for _, x := range among {
		if c := value + values[x] - weights[x]; c < least {
			least = c
			to = x
		}
	}
	gap[0] = least
	return to
}
