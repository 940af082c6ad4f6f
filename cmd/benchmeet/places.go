package main

import (
	"net"
	"net/http"
	"strings"

	"benchmeet/api/rest"
)

// clubPath begins the addresses of a club that shares the server's host.
const clubPath = "/c/"

// placed finds out whose address a request came to, and takes what says so off its path:
// all routes are the same for every club.
func (s *server) placed(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		short, within, is := shortOf(r.URL.Path)
		if is && within == "" {
			to := *r.URL
			to.Path += "/"
			http.Redirect(w, r, to.RequestURI(), http.StatusPermanentRedirect)
			return
		}
		club, root := s.hosted.At(r.Context(), hostOf(r), short)
		p := rest.Place{Club: club}
		switch {
		case is:
			p.Base = clubPath + short
			r = r.Clone(r.Context())
			r.URL.Path = within
			if r.URL.RawPath != "" { // a short name is written in one way only
				r.URL.RawPath = r.URL.RawPath[min(len(p.Base), len(r.URL.RawPath)):]
			}
		case root:
			p.Root, p.Shared = true, s.hosted.Shared()
		default:
			p.Origin = schemeOf(r) + "://" + r.Host
		}
		next.ServeHTTP(w, r.WithContext(rest.At(r.Context(), p)))
	})
}

// shortOf are the club's short name in a path and what follows it.
func shortOf(path string) (short, rest string, is bool) {
	after, is := strings.CutPrefix(path, clubPath)
	if !is || after == "" {
		return "", "", false
	}
	if at := strings.IndexByte(after, '/'); at >= 0 {
		return after[:at], after[at:], at > 0
	}
	return after, "", true
}

// hostOf is the host name that a request was sent to, without the port.
func hostOf(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.Host)
	if err != nil {
		host = r.Host
	}
	return strings.ToLower(host)
}

// schemeOf says how a browser came here, also by a proxy that ends TLS.
func schemeOf(r *http.Request) string {
	if r.TLS != nil || r.Header.Get("X-Forwarded-Ssl") == "on" {
		return "https"
	}
	for _, said := range []string{"X-Forwarded-Proto", "X-Forwarded-Protocol", "X-Url-Scheme"} {
		if r.Header.Get(said) == "https" {
			return "https"
		}
	}
	return "http"
}
