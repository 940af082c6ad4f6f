package main

import "net"

// url is the address for this machine.
func (s *server) url() string {
	_, port, _ := net.SplitHostPort(s.address.String())
	return "http://127.0.0.1:" + port
}

// addresses lists where browsers may open the server: the network's addresses
// first, because phones need them.
func (s *server) addresses() []string {
	host, port, err := net.SplitHostPort(s.address.String())
	if err != nil {
		return []string{s.url()}
	}
	if ip := net.ParseIP(host); ip != nil && !ip.IsUnspecified() {
		return []string{"http://" + net.JoinHostPort(host, port)}
	}
	var out []string
	interfaces, err := net.InterfaceAddrs()
	if err == nil {
		for _, a := range interfaces {
			if n, is := a.(*net.IPNet); is && n.IP.IsGlobalUnicast() && n.IP.To4() != nil {
				out = append(out, "http://"+net.JoinHostPort(n.IP.String(), port))
			}
		}
	}
	return append(out, s.url())
}
