package rest

import (
	"context"

	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/day"
)

// texts finds the free texts of a meet's reasons.
type texts struct {
	reads
	kept textStore
}

// textStore is what is asked for texts: the few that are wanted. A club has those of
// all its years.
type textStore interface {
	Texts(ctx context.Context, club string, ids []string) ([]store.Text, error)
}

// of reads a meet and the free texts that some of its reasons name.
func (s texts) of(
	ctx context.Context, meet string, atLeast *int64, reasons func(*day.State) []day.Reason,
) (view.MeetView, view.Texts, error) {
	v, err := s.meetView(ctx, meet, atLeast)
	if err != nil {
		return v, nil, err
	}
	var ids []string
	for _, why := range reasons(v.State) {
		if why.Text != "" {
			ids = append(ids, why.Text)
		}
	}
	found, err := s.kept.Texts(ctx, s.club(ctx), ids)
	if err != nil {
		return v, nil, err
	}
	byID := make(map[string]string, len(found))
	for _, t := range found {
		byID[t.ID] = t.Text
	}
	return v, func(id string) string { return byID[id] }, nil
}

func ruled(s *day.State) []day.Reason {
	var out []day.Reason
	for _, r := range s.Rulings {
		out = append(out, r.Reason)
	}
	return out
}

func lodged(s *day.State) []day.Reason {
	var out []day.Reason
	for _, p := range s.Protests {
		out = append(out, p.Reason)
	}
	return out
}
