package main

import (
	"context"
	"crypto/sha256"
	"crypto/tls"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"

	"github.com/labstack/echo/v4"
	"github.com/spf13/pflag"

	"benchmeet/api/certificate"
	"benchmeet/api/gen"
)

// tlsSettings say whether https is served beside http, and with which certificates.
type tlsSettings struct {
	Mode   string `env:"BENCHMEET_TLS"`
	Cert   string `env:"BENCHMEET_TLS_CERT"`
	Key    string `env:"BENCHMEET_TLS_KEY"`
	Listen string `env:"BENCHMEET_TLS_LISTEN" envDefault:":8443"`
}

func (o *tlsSettings) flags(f *pflag.FlagSet) {
	f.StringVar(&o.Mode, "tls", o.Mode, "local: serve https too, with an authority of this server's own")
	f.StringVar(&o.Cert, "tls-cert", o.Cert, "serve https too, with this certificate and its chain (PEM)")
	f.StringVar(&o.Key, "tls-key", o.Key, "the key of --tls-cert (PEM)")
	f.StringVar(&o.Listen, "tls-listen", o.Listen, "host:port of https")
}

func (o tlsSettings) check() error {
	switch {
	case o.Mode != "" && o.Mode != "local":
		return fmt.Errorf("--tls is local or left out, not %q; certificates of your own come with --tls-cert and --tls-key", o.Mode)
	case (o.Cert == "") != (o.Key == ""):
		return errors.New("--tls-cert and --tls-key go together")
	case o.Mode != "" && o.Cert != "":
		return errors.New("--tls local makes its own certificates: leave --tls-cert and --tls-key out, or --tls")
	}
	return nil
}

// secured is https, beside http.
type secured struct {
	source   certificate.Source
	listener net.Listener
	hosts    []string // of a certificate from files
}

// secured listens for https; nil where that is not wanted.
func (s *server) secured(ctx context.Context) (*secured, error) {
	o := s.options.TLS
	if o.Mode == "" && o.Cert == "" {
		return nil, nil
	}
	plain, err := (&net.ListenConfig{}).Listen(ctx, "tcp", o.Listen)
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s for https (is another server running there?): %w", o.Listen, err)
	}
	out := &secured{}
	if o.Cert != "" {
		var files *certificate.Files
		if files, err = certificate.OpenFiles(o.Cert, o.Key, s.options.Log); err == nil {
			out.source, out.hosts = files, files.Names()
			s.reloadOnHangUp(files)
		}
	} else {
		names := func() certificate.Names { return namesOf(plain.Addr()) }
		out.source, _, err = certificate.OpenLocal(filepath.Join(s.options.Data, "tls"), names, s.clock.now, s.options.Log)
	}
	if err != nil {
		return nil, errors.Join(err, plain.Close())
	}
	out.listener = tls.NewListener(plain, certificate.Config(out.source))
	return out, nil
}

// reloadOnHangUp reads the files of certificates again when whoever renewed them says so.
func (s *server) reloadOnHangUp(files *certificate.Files) {
	heard := make(chan os.Signal, 1)
	signal.Notify(heard, syscall.SIGHUP)
	s.task("certificates", func(ctx context.Context) {
		defer signal.Stop(heard)
		for {
			select {
			case <-ctx.Done():
				return
			case <-heard:
				if err := files.Reload(); err != nil {
					s.options.Log.Error("the certificate's files cannot be read again; showing the one of before", "error", err)
				}
			}
		}
	})
}

// hostName is what may stand in a certificate as a host's name.
var hostName = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*$`)

// namesOf are the names and addresses under which this host is reached at a listener.
func namesOf(at net.Addr) certificate.Names {
	var out certificate.Names
	if own, err := os.Hostname(); err == nil && hostName.MatchString(strings.ToLower(own)) {
		own = strings.ToLower(own)
		out.Hosts = append(out.Hosts, own)
		if !strings.Contains(own, ".") {
			out.Hosts = append(out.Hosts, own+".local")
		}
	}
	out.Hosts = append(out.Hosts, "localhost")
	out.Addresses, _ = hostsOf(at)
	if last := out.Addresses[len(out.Addresses)-1]; last != loopback {
		out.Addresses = append(out.Addresses, loopback)
	}
	out.Addresses = append(out.Addresses, netip.IPv6Loopback())
	return out
}

// addresses lists where browsers may open https.
func (s *secured) addresses() []string {
	if s == nil {
		return nil
	}
	if _, port := hostsOf(s.listener.Addr()); len(s.hosts) > 0 {
		var out []string
		for _, host := range s.hosts {
			if !strings.HasPrefix(host, "*") {
				out = append(out, strings.TrimSuffix("https://"+net.JoinHostPort(host, port), ":443"))
			}
		}
		return out
	}
	return places("https://", s.listener.Addr())
}

// about is what the server says of its https.
func (s *secured) about() *gen.Secure {
	if s == nil {
		return nil
	}
	out := &gen.Secure{Addresses: s.addresses()}
	if a := s.source.Authority(); a != nil {
		sum := sha256.Sum256(a.Raw)
		out.Authority = &gen.Authority{
			Name: a.Subject.CommonName, Fingerprint: hex.EncodeToString(sum[:]), Key: certificate.Fingerprint(a), Ends: a.NotAfter.UTC(),
		}
	}
	return out
}

func (s *secured) close() error {
	if s == nil {
		return nil
	}
	return s.listener.Close()
}

// authorityPath is where phones get the authority's certificate.
const authorityPath = "/trust/benchmeet-authority.crt"

// handOut hands the authority's certificate out, to be trusted. There is nothing secret
// in it; over plain http somebody may put another in its place, so the page beside it
// shows the fingerprint to compare with the one at the server.
func (s *secured) handOut(e *echo.Echo) {
	if s == nil || s.source.Authority() == nil {
		return
	}
	e.GET(authorityPath, func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Cache-Control", "no-store")
		h.Set("X-Content-Type-Options", "nosniff")
		return c.Blob(http.StatusOK, "application/x-x509-ca-cert", s.source.Authority().Raw)
	})
}

// sayHowSafe says who can read along, and how phones come to the secure address.
func (s *server) sayHowSafe(out io.Writer) {
	about := s.secure.about()
	if about == nil {
		fmt.Fprintln(out, "\nhttp is not encrypted: whoever is on the same network can read keys and names. --tls local changes that.")
		return
	}
	fmt.Fprintln(out, "\nhttp stays open and is not encrypted: whoever is on the same network can read keys and names sent over it.")
	a := about.Authority
	if a == nil {
		return
	}
	fmt.Fprintln(out, "To use https, a phone trusts this server once: open "+places("http://", s.address)[0]+"/trust")
	fmt.Fprintln(out, "  its fingerprint is "+a.Fingerprint+", good until "+a.Ends.Format("2006-01-02"))
	fmt.Fprintln(out, "  for a counter box: benchmeet node --fingerprint "+a.Key)
}
