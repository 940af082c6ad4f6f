package certificate_test

import (
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"benchmeet/api/certificate"
)

// FuzzTrusted: whatever stands in the file of an authority or is given as a fingerprint,
// a node trusts what is a certificate or 32 bytes, or says in a sentence which of the two
// it cannot use; a --tls-cert or --tls-key of any content is used or refused.
func FuzzTrusted(f *testing.F) {
	h := newFuzzHall(f)
	f.Add(h, "")
	f.Add([]byte("-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n"), "")
	f.Add([]byte{}, strings.Repeat("ab:", 31)+"ab")
	f.Add([]byte("\x30\x82\xff\xff"), strings.Repeat("AB", 32))
	f.Add([]byte(nil), "sixty-four")
	folder := f.TempDir()
	f.Fuzz(func(t *testing.T, text []byte, fingerprint string) {
		path := filepath.Join(folder, "given.pem")
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, file := range []string{"", path} {
			config, err := certificate.Trusted(file, fingerprint)
			switch {
			case err != nil:
				if !strings.Contains(err.Error(), "--ca") && !strings.Contains(err.Error(), "--fingerprint") {
					t.Errorf("%q %q: %v", text, fingerprint, err)
				}
			case file != "" && config.RootCAs == nil:
				t.Errorf("%q: nobody is trusted and it is not said", text)
			case file == "" && (fingerprint != "") != (config.VerifyConnection != nil):
				t.Errorf("%q: the key is not looked at", fingerprint)
			case config.InsecureSkipVerify && config.VerifyConnection == nil:
				t.Errorf("%q %q: anybody is trusted", text, fingerprint)
			}
		}
		if _, err := certificate.OpenFiles(path, path, nil); err == nil && !strings.Contains(string(text), "BEGIN") {
			t.Errorf("%q is a certificate with its key", text)
		}
	})
}

// newFuzzHall is the certificate of an authority as a server hands it out.
func newFuzzHall(f *testing.F) []byte {
	f.Helper()
	names := func() certificate.Names {
		return certificate.Names{Hosts: []string{"localhost"}, Addresses: []netip.Addr{netip.MustParseAddr("127.0.0.1")}}
	}
	l, _, err := certificate.OpenLocal(filepath.Join(f.TempDir(), "tls"), names, time.Now, nil)
	if err != nil {
		f.Fatal(err)
	}
	return l.Authority().Raw
}
