package main

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"strings"
)

// proxies are the addresses of proxies that are believed when they say for whom
// they ask. Anybody else could write anything there.
type proxies []netip.Prefix

// readProxies reads addresses and blocks such as 10.0.0.7 or 10.0.0.0/24.
func readProxies(names []string) (proxies, error) {
	var out proxies
	for _, name := range names {
		if a, err := netip.ParseAddr(name); err == nil {
			out = append(out, netip.PrefixFrom(a.Unmap(), a.Unmap().BitLen()))
			continue
		}
		block, err := netip.ParsePrefix(name)
		if err != nil {
			return nil, fmt.Errorf("--proxy %s: give the address of a proxy, such as 10.0.0.7, or a block of them, such as 10.0.0.0/24", name)
		}
		out = append(out, block.Masked())
	}
	return out, nil
}

func (p proxies) has(a netip.Addr) bool {
	for _, block := range p {
		if block.Contains(a) {
			return true
		}
	}
	return false
}

// asker is the network address that a request comes from: what the last proxy that
// is believed says, or else the other end of the connection.
func (p proxies) asker(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	at, err := netip.ParseAddr(host)
	if err != nil {
		return host
	}
	at = at.Unmap()
	hops := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
	for i := len(hops) - 1; i >= 0 && p.has(at); i-- {
		next, err := netip.ParseAddr(strings.TrimSpace(hops[i]))
		if err != nil {
			break
		}
		at = next.Unmap()
	}
	return at.String()
}

// saysTLS are the headers by which a proxy says that it was asked over TLS.
var saysTLS = []string{"X-Forwarded-Proto", "X-Forwarded-Protocol", "X-Forwarded-Ssl", "X-Url-Scheme"}

// honest takes away what a request says of TLS in front of the server, unless it comes
// from this machine or from a proxy that is believed: a cookie that is marked as one of
// https would never come back over http.
func (p proxies) honest(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		at, err := netip.ParseAddrPort(r.RemoteAddr)
		if err != nil || !at.Addr().Unmap().IsLoopback() && !p.has(at.Addr().Unmap()) {
			for _, said := range saysTLS {
				r.Header.Del(said)
			}
		}
		next.ServeHTTP(w, r)
	})
}
