package certificate_test

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"benchmeet/api/certificate"
)

// greeted says what a client makes of a server, and what the server read of it.
func greeted(t *testing.T, client, server *tls.Config) (string, error) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	read := make(chan string, 1)
	go func() {
		conn, err := listener.Accept()
		if err != nil {
			read <- ""
			return
		}
		defer conn.Close()
		_ = conn.SetDeadline(time.Now().Add(5 * time.Second))
		text := make([]byte, 100)
		n, _ := tls.Server(conn, server).Read(text)
		read <- string(text[:n])
	}()
	defer listener.Close()
	conn, err := tls.Dial("tcp", listener.Addr().String(), client)
	if err == nil {
		_, err = conn.Write([]byte("a key"))
		defer conn.Close()
	}
	return <-read, err
}

// TestWhoIsNotTrustedReadsNothing: the right server reads what is sent; another one,
// with whatever certificate of its own, reads not a byte.
func TestWhoIsNotTrustedReadsNothing(t *testing.T) {
	right, _ := newHall(t).open()
	wrong, _ := newHall(t).open()
	file := filepath.Join(t.TempDir(), "ca")
	pin := certificate.Fingerprint(right.Authority())
	for _, tt := range []struct {
		name, pin string
		file      []byte
	}{
		{"a fingerprint", pin, nil},
		{"a fingerprint in pairs", strings.ToUpper(pin[:2] + ":" + pin[2:]), nil},
		{"the file of the page", "", right.Authority().Raw},
		{"a file of PEM", "", pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: right.Authority().Raw})},
		{"the system's authorities", "", nil},
	} {
		path := ""
		if tt.file != nil {
			path = file
			if err := os.WriteFile(file, tt.file, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		client, err := certificate.Trusted(path, tt.pin)
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		client.ServerName = "127.0.0.1"
		read, err := greeted(t, client, certificate.Config(right))
		if known := tt.name != "the system's authorities"; (err == nil) != known || (read == "a key") != known {
			t.Errorf("%s: the right server read %q: %v", tt.name, read, err)
		}
		if read, err := greeted(t, client, certificate.Config(wrong)); err == nil || read != "" {
			t.Errorf("%s: another server read %q: %v", tt.name, read, err)
		}
		client.ServerName = "elsewhere.example"
		if read, err := greeted(t, client, certificate.Config(right)); err == nil || read != "" {
			t.Errorf("%s: under another name it read %q: %v", tt.name, read, err)
		}
	}
	for _, bad := range [][2]string{{"", "5c1f"}, {"/nowhere", ""}, {file, pin}} {
		if _, err := certificate.Trusted(bad[0], bad[1]); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// TestFilesAreReadAgain: what somebody renews is shown without a restart, and files that
// do not fit leave what was.
func TestFilesAreReadAgain(t *testing.T) {
	folder := t.TempDir()
	cert, key := filepath.Join(folder, "cert.pem"), filepath.Join(folder, "key.pem")
	put := func() []byte {
		l, _ := newHall(t).open()
		c, err := l.Current()
		if err != nil {
			t.Fatal(err)
		}
		write(t, cert, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: c.Certificate[0]}))
		write(t, key, keyPEM(t, c))
		return c.Certificate[0]
	}
	first := put()
	f, err := certificate.OpenFiles(cert, key, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	shows := func(what string, want []byte) {
		t.Helper()
		if c, err := f.Current(); err != nil || string(c.Certificate[0]) != string(want) {
			t.Errorf("%s: another certificate is shown (%v)", what, err)
		}
	}
	shows("at the start", first)
	second := put()
	if err := f.Reload(); err != nil {
		t.Error(err)
	}
	shows("after they were renewed", second)
	write(t, key, []byte("no key"))
	if f.Reload() == nil {
		t.Error("a file that holds no key is taken")
	}
	shows("after a mistake", second)
}

func write(t *testing.T, path string, text []byte) {
	t.Helper()
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

func keyPEM(t *testing.T, c *tls.Certificate) []byte {
	t.Helper()
	raw, err := x509.MarshalPKCS8PrivateKey(c.PrivateKey)
	if err != nil {
		t.Fatal(err)
	}
	return pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: raw})
}
