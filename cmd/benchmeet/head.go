package main

import "net/http"

// asGet answers HEAD as GET is answered, on every address: the server leaves the body out
// by itself. A HEAD opens no live feed.
func asGet(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodHead {
			get := *r // the server itself goes on to see a HEAD
			get.Method = http.MethodGet
			get.Header = r.Header.Clone()
			get.Header.Del("Upgrade")
			r = &get
		}
		next.ServeHTTP(w, r)
	})
}
