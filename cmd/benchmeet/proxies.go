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
