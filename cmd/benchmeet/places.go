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
		p := rest.Place{Club: s.options.Club.ID, Root: true, Shared: s.hosted.Shared()}
		own, hasHost := s.hosted.Host(hostOf(r))
		if hasHost {
			p = rest.Place{Club: own.ID, Origin: schemeOf(r) + "://" + r.Host}
		}
		if short, rest, is := shortOf(r.URL.Path); is {
			if rest == "" {
				to := *r.URL
				to.Path += "/"
				http.Redirect(w, r, to.RequestURI(), http.StatusPermanentRedirect)
				return
			}
			p = s.sharing(r, short)
			if hasHost && p.Club != own.ID {
				p.Club = "" // a host of one's own shows nobody else
			}
			r = r.Clone(r.Context())
			cut := len(clubPath) + len(short)
			r.URL.Path = r.URL.Path[cut:]
			if r.URL.RawPath != "" { // a short name is written in one way only
				r.URL.RawPath = r.URL.RawPath[min(cut, len(r.URL.RawPath)):]
			}
		}
		next.ServeHTTP(w, r.WithContext(rest.At(r.Context(), p)))
	})
}

// sharing is the place of a club under its path.
func (s *server) sharing(r *http.Request, short string) rest.Place {
	c, _ := s.hosted.Short(r.Context(), short)
	return rest.Place{Club: c.ID, Base: clubPath + short}
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
