package main

import (
	"net"
	"net/netip"
	"strconv"
)

// url is the address for this machine: by its own network where the server listens
// there.
func (s *server) url() string {
	hosts, port := hostsOf(s.address)
	return "http://" + net.JoinHostPort(hosts[len(hosts)-1].String(), port)
}

// addresses lists where browsers may open the server: the network's addresses
// first, because phones need them. Those of https come after, for a phone has to trust
// them first; but before, where everybody trusts the certificate already.
func (s *server) addresses() []string {
	plain, secure := places("http://", s.address), s.secure.addresses()
	if s.secure != nil && s.secure.source.Authority() == nil {
		return append(secure, plain...)
	}
	return append(plain, secure...)
}

// places are the addresses under which a listener is found, this machine's own last.
func places(scheme string, at net.Addr) []string {
	hosts, port := hostsOf(at)
	out := make([]string, 0, len(hosts))
	for _, host := range hosts {
		out = append(out, scheme+net.JoinHostPort(host.String(), port))
	}
	return out
}

// hostsOf are the network addresses at which a listener listens, and its port.
func hostsOf(at net.Addr) ([]netip.Addr, string) {
	listening, err := netip.ParseAddrPort(at.String())
	if err != nil {
		return []netip.Addr{loopback}, "80"
	}
	port := strconv.Itoa(int(listening.Port()))
	if host := listening.Addr().Unmap(); !host.IsUnspecified() {
		return []netip.Addr{host}, port
	}
	var out []netip.Addr
	interfaces, err := net.InterfaceAddrs()
	if err == nil {
		for _, a := range interfaces {
			if n, is := a.(*net.IPNet); is && n.IP.IsGlobalUnicast() && n.IP.To4() != nil {
				if host, fits := netip.AddrFromSlice(n.IP.To4()); fits {
					out = append(out, host)
				}
			}
		}
	}
	return append(out, loopback), port
}

var loopback = netip.AddrFrom4([4]byte{127, 0, 0, 1})
