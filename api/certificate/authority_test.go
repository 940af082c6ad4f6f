package certificate_test

import (
	"crypto/tls"
	"crypto/x509"
	"log/slog"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"benchmeet/api/certificate"
)

// hall is a server's folder, its names and a clock that tests move.
type hall struct {
	t      *testing.T
	folder string
	names  certificate.Names
	now    time.Time
}

func newHall(t *testing.T) *hall {
	return &hall{
		t: t, folder: filepath.Join(t.TempDir(), "tls"), now: time.Now(),
		names: certificate.Names{
			Hosts:     []string{"hall", "hall.local", "localhost"},
			Addresses: []netip.Addr{netip.MustParseAddr("192.0.2.7"), netip.MustParseAddr("127.0.0.1"), netip.MustParseAddr("::1")},
		},
	}
}

func (h *hall) open() (*certificate.Local, bool) {
	h.t.Helper()
	l, fresh, err := certificate.OpenLocal(
		h.folder, func() certificate.Names { return h.names }, func() time.Time { return h.now }, slog.New(slog.DiscardHandler),
	)
	if err != nil {
		h.t.Fatal(err)
	}
	return l, fresh
}

func (h *hall) shown(l *certificate.Local) *tls.Certificate {
	h.t.Helper()
	c, err := l.Current()
	if err != nil {
		h.t.Fatal(err)
	}
	return c
}

// believed says whether a phone that trusts an authority believes a certificate.
func (h *hall) believed(c *tls.Certificate, authority *x509.Certificate, name string) error {
	roots := x509.NewCertPool()
	roots.AddCert(authority)
	_, err := c.Leaf.Verify(x509.VerifyOptions{Roots: roots, DNSName: name, CurrentTime: h.now})
	return err
}

// TestAPhoneThatTrustsTheAuthorityBelievesTheServer: by each of its names and
// addresses, by no other, and after a restart too.
func TestAPhoneThatTrustsTheAuthorityBelievesTheServer(t *testing.T) {
	h := newHall(t)
	first, fresh := h.open()
	if !fresh {
		t.Error("the first start made no authority")
	}
	trusted := first.Authority()
	for range 2 {
		l, _ := h.open()
		for _, name := range []string{"hall", "hall.local", "localhost", "192.0.2.7", "127.0.0.1", "::1"} {
			if err := h.believed(h.shown(l), trusted, name); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		for _, name := range []string{"elsewhere.example", "192.0.2.8"} {
			if h.believed(h.shown(l), trusted, name) == nil {
				t.Errorf("the server is believed to be %s", name)
			}
		}
	}
	if _, fresh := h.open(); fresh {
		t.Error("a restart made another authority")
	}
	if lasts := trusted.NotAfter.Sub(h.now); lasts > 90*24*time.Hour {
		t.Errorf("the authority lasts %v", lasts)
	}
}

// TestTheAuthoritySpeaksForThisHostAlone: whoever steals its key can make a certificate
// for another name, and no phone believes it.
func TestTheAuthoritySpeaksForThisHostAlone(t *testing.T) {
	h := newHall(t)
	first, _ := h.open()
	trusted := first.Authority()
	if !trusted.PermittedDNSDomainsCritical || !trusted.MaxPathLenZero || trusted.MaxPathLen != 0 {
		t.Errorf("the constraints may be overlooked: %+v", trusted)
	}
	// The thief has the folder; a leaf for other names is made by asking for it with the
	// same key, and shown to phones that trust the authority of before.
	for _, other := range []certificate.Names{
		{Hosts: []string{"bank.example"}, Addresses: h.names.Addresses},
		{Hosts: h.names.Hosts, Addresses: []netip.Addr{netip.MustParseAddr("198.51.100.1")}},
		{Hosts: h.names.Hosts, Addresses: []netip.Addr{netip.MustParseAddr("2001:db8::1")}},
	} {
		h.names = other
		thief, _ := h.open()
		name := other.Hosts[0]
		if name == "hall" {
			name = other.Addresses[0].String()
		}
		if err := h.believed(h.shown(thief), thief.Authority(), name); err != nil {
			t.Fatalf("%s: the forgery is none: %v", name, err)
		}
		if h.believed(h.shown(thief), trusted, name) == nil {
			t.Errorf("a phone that trusts the hall believes %s", name)
		}
	}
}

// TestAuthorityIsRenewedBeforeItEnds: in time, while what phones trust is still good,
// and with the same key, so that a node that was told its fingerprint goes on.
func TestAuthorityIsRenewedBeforeItEnds(t *testing.T) {
	h := newHall(t)
	l, _ := h.open()
	trusted := l.Authority()
	for range 90 {
		h.now = h.now.Add(24 * time.Hour)
		c := h.shown(l)
		if err := h.believed(c, l.Authority(), "hall"); err != nil {
			t.Fatalf("on %v: %v", h.now, err)
		}
		if h.now.Before(trusted.NotAfter) {
			if err := h.believed(c, trusted, "hall"); err != nil {
				t.Fatalf("on %v a phone that trusts until %v: %v", h.now, trusted.NotAfter, err)
			}
		}
	}
	if l.Authority().Equal(trusted) {
		t.Error("the authority was not renewed")
	}
	if certificate.Fingerprint(l.Authority()) != certificate.Fingerprint(trusted) {
		t.Error("the renewed authority has another key")
	}
}

// TestAnotherAddressAndAnotherClock: a server that comes into another network, or whose
// clock was a year ahead when it made its authority, is believed under what is right now.
func TestAnotherAddressAndAnotherClock(t *testing.T) {
	h := newHall(t)
	h.now = h.now.AddDate(1, 0, 0)
	l, _ := h.open()
	h.now = h.now.AddDate(-1, 0, 0)
	if err := h.believed(h.shown(l), l.Authority(), "hall"); err != nil {
		t.Errorf("after the clock was set right: %v", err)
	}
	h.now = h.now.Add(2 * time.Minute)
	h.names.Addresses[0] = netip.MustParseAddr("198.51.100.9")
	if err := h.believed(h.shown(l), l.Authority(), "198.51.100.9"); err != nil {
		t.Errorf("in another network: %v", err)
	}
}

// TestTheKeyIsForItsOwner: the files are their owner's alone, and a key that others can
// read is not used.
func TestTheKeyIsForItsOwner(t *testing.T) {
	h := newHall(t)
	h.open()
	for path, want := range map[string]os.FileMode{"": 0o700, "authority.pem": 0o600, "authority-key.pem": 0o600} {
		state, err := os.Stat(filepath.Join(h.folder, path))
		if err != nil || state.Mode().Perm() != want {
			t.Errorf("%q: %v %v, want %o", path, state.Mode().Perm(), err, want)
		}
	}
	key := filepath.Join(h.folder, "authority-key.pem")
	if err := os.Chmod(key, 0o644); err != nil {
		t.Fatal(err)
	}
	_, _, err := certificate.OpenLocal(h.folder, func() certificate.Names { return h.names }, time.Now, slog.New(slog.DiscardHandler))
	if err == nil || !strings.Contains(err.Error(), "others may read") {
		t.Errorf("a key that others can read: %v", err)
	}
}
