package certificate

import (
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"slices"
	"sync"
	"time"
)

// Source is where a server's certificates come from. It is asked at each handshake.
type Source interface {
	// Current is the certificate to show now, with the chain that it needs.
	Current() (*tls.Certificate, error)
	// Authority is what phones have to trust for it, nil where they do already.
	Authority() *x509.Certificate
}

// Config is how a server speaks TLS with the certificates of a source. It speaks
// HTTP/1.1 alone: what the server promises of slow and silent readers, and the live
// feed, go by connections.
func Config(s Source) *tls.Config {
	return &tls.Config{
		MinVersion:     tls.VersionTLS12,
		NextProtos:     []string{"http/1.1"},
		GetCertificate: func(*tls.ClientHelloInfo) (*tls.Certificate, error) { return s.Current() },
	}
}

// Local is a source with an authority of this server's own, kept in a folder.
type Local struct {
	folder string
	names  func() Names
	now    func() time.Time
	log    *slog.Logger

	mu        sync.Mutex
	authority *authority
	of        Names // what the leaf is for
	leaf      *tls.Certificate
	looked    time.Time
}

// lookEvery is how often the host is asked for its names: one that comes into another
// network has another address.
const lookEvery = time.Minute

// OpenLocal opens the authority of a folder, or makes one. names are asked again now
// and then. fresh says that it was made or renewed.
func OpenLocal(folder string, names func() Names, now func() time.Time, log *slog.Logger) (l *Local, fresh bool, err error) {
	l = &Local{folder: folder, names: names, now: now, log: log}
	fresh, err = l.renew(names())
	return l, fresh, err
}

// Authority is what phones have to trust.
func (l *Local) Authority() *x509.Certificate {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.authority.cert
}

// Current is the certificate of now. Where a new one cannot be made the last is shown,
// and the reason stands in the server's log.
func (l *Local) Current() (*tls.Certificate, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.now()
	if since := now.Sub(l.looked); since >= 0 && since < lookEvery {
		return l.leaf, nil
	}
	l.looked = now
	names := l.names()
	if l.sound(names, now) {
		return l.leaf, nil
	}
	fresh, err := l.renew(names)
	switch {
	case err != nil:
		l.log.Error("no new certificate; showing the old one", "error", err)
	case fresh:
		l.log.Warn("this server's authority is renewed: phones open the page /trust again before their old one ends",
			"ends", l.authority.cert.NotAfter.Format(time.DateOnly))
	}
	return l.leaf, nil
}

// sound says whether leaf and authority are good for a while, for these names.
func (l *Local) sound(names Names, now time.Time) bool {
	return slices.Equal(names.Hosts, l.of.Hosts) && slices.Equal(names.Addresses, l.of.Addresses) && l.authority.fits(names, now) &&
		!now.Before(l.leaf.Leaf.NotBefore) && now.Add(leafRenewed).Before(l.leaf.Leaf.NotAfter)
}

func (l *Local) renew(names Names) (fresh bool, err error) {
	now := l.now()
	a, fresh, err := openAuthority(l.folder, names, now)
	if err != nil {
		return false, err
	}
	key, cert, err := a.leaf(names, now)
	if err != nil {
		return false, err
	}
	l.authority, l.of, l.looked = a, names, now
	// The authority goes along, so that a node can be told its fingerprint alone.
	l.leaf = &tls.Certificate{Certificate: [][]byte{cert.Raw, a.cert.Raw}, PrivateKey: key, Leaf: cert}
	return fresh, nil
}

// Files is a source of somebody else's certificates: two files, which whoever renews
// them replaces.
type Files struct {
	cert, key string
	log       *slog.Logger

	mu      sync.Mutex
	current *tls.Certificate
	state   [2]fileState
	looked  time.Time
}

// filesEvery is how often the files are looked at.
const filesEvery = 10 * time.Second

// fileState tells whether a file is the one that was read.
type fileState struct {
	size     int64
	modified time.Time
}

// OpenFiles reads a certificate with its chain and its key, both PEM.
func OpenFiles(cert, key string, log *slog.Logger) (*Files, error) {
	f := &Files{cert: cert, key: key, log: log}
	if err := f.Reload(); err != nil {
		return nil, err
	}
	return f, nil
}

// Authority is nil: who brings certificates has them trusted.
func (f *Files) Authority() *x509.Certificate { return nil }

// Reload reads the files now. Where they do not fit, what was read before stays.
func (f *Files) Reload() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.reload()
}

func (f *Files) reload() error {
	f.looked = time.Now()
	state, err := f.states()
	if err != nil {
		return err
	}
	pair, err := tls.LoadX509KeyPair(f.cert, f.key)
	if err != nil {
		return fmt.Errorf("--tls-cert %s and --tls-key %s do not fit together: %w", f.cert, f.key, err)
	}
	f.current, f.state = &pair, state
	return nil
}

func (f *Files) states() (out [2]fileState, err error) {
	for i, path := range []string{f.cert, f.key} {
		state, err := os.Stat(path)
		if err != nil {
			return out, fmt.Errorf("a certificate's file is not there: %w", err)
		}
		out[i] = fileState{state.Size(), state.ModTime()}
	}
	return out, nil
}

// Current is the certificate of now; files that changed are read again.
func (f *Files) Current() (*tls.Certificate, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if time.Since(f.looked) >= filesEvery {
		f.looked = time.Now()
		state, err := f.states()
		if err == nil && state != f.state {
			err = f.reload()
		}
		if err != nil {
			f.log.Error("the certificate's files cannot be read again; showing the one of before", "error", err)
		}
	}
	if f.current == nil {
		return nil, errors.New("there is no certificate")
	}
	return f.current, nil
}

// Names are the host names that the certificate is for.
func (f *Files) Names() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.current.Leaf.DNSNames
}
