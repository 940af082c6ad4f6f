package rest

import (
	"bytes"
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/refusal"
)

// calendars gives the frames of a day to calendar programs, which sign in nowhere: who has
// the address may read it.
type calendars struct {
	reads
	store store.Store
}

// keyOf is the part of a calendar's address that nobody guesses, and a name of the server's club and meet that
// says nothing of it.
func (s calendars) keyOf(ctx context.Context, meet string) (key, place string, err error) {
	secret, err := s.store.Secret(ctx, "calendar-address")
	if err != nil {
		return "", "", err
	}
	of := func(what string) []byte {
		h := hmac.New(sha256.New, secret)
		h.Write([]byte(what + "\x00" + s.club(ctx) + "\x00" + meet))
		return h.Sum(nil)
	}
	return base64.RawURLEncoding.EncodeToString(of("address")), hex.EncodeToString(of("place")[:8]), nil
}

// GetCalendarAddress tells where the calendar of a meet stands.
func (s calendars) GetCalendarAddress(ctx context.Context, r gen.GetCalendarAddressRequestObject) (gen.GetCalendarAddressResponseObject, error) {
	if _, err := s.meetView(ctx, r.Meet, nil); err != nil {
		return nil, err
	}
	key, _, err := s.keyOf(ctx, r.Meet)
	return gen.GetCalendarAddress200JSONResponse{Path: "/api/v1/meets/" + r.Meet + "/calendar/" + key + "/day.ics"}, err
}

// GetCalendar gives the calendar of a meet to who has its address.
func (s calendars) GetCalendar(ctx context.Context, r gen.GetCalendarRequestObject) (gen.GetCalendarResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	key, place, err := s.keyOf(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	if !hmac.Equal([]byte(key), []byte(r.Key)) {
		return nil, refusal.New("no-page")
	}
	ics := view.Calendar(v, place).Bytes()
	return gen.GetCalendar200TextcalendarResponse{
		Body: bytes.NewReader(ics), ContentLength: int64(len(ics)),
		Headers: gen.GetCalendar200ResponseHeaders{ContentDisposition: `inline; filename="` + r.Meet + `.ics"`},
	}, nil
}
