package certificate

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"net"
	"net/netip"
	"os"
	"path/filepath"
)

// ranges are blocks of one address each.
func ranges(addresses []netip.Addr) []*net.IPNet {
	var out []*net.IPNet
	for _, a := range addresses {
		a = a.Unmap()
		out = append(out, &net.IPNet{IP: a.AsSlice(), Mask: net.CIDRMask(a.BitLen(), a.BitLen())})
	}
	return out
}

// readKey reads the authority's key. One that others can read is no secret any more.
func readKey(path string) (*ecdsa.PrivateKey, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("the authority's key: %w", err)
	}
	state, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("the authority's key: %w", err)
	}
	if open := state.Mode().Perm() & 0o077; open != 0 {
		return nil, fmt.Errorf(
			"others may read the key %s (mode %o): remove the folder %s, and the authority from the phones that trust it; the next start makes another",
			path, state.Mode().Perm(), filepath.Dir(path),
		)
	}
	block, _ := pem.Decode(text)
	if block == nil {
		return nil, fmt.Errorf("%s holds no key: remove the folder %s; the next start makes another authority", path, filepath.Dir(path))
	}
	parsed, err := x509.ParsePKCS8PrivateKey(block.Bytes)
	key, is := parsed.(*ecdsa.PrivateKey)
	if err != nil || !is {
		return nil, fmt.Errorf("%s holds no key: remove the folder %s; the next start makes another authority", path, filepath.Dir(path))
	}
	return key, nil
}

func newKey(path string) (*ecdsa.PrivateKey, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	raw, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, err
	}
	return key, writeFile(path, encoded("PRIVATE KEY", raw))
}

func readCertificate(path string) (*x509.Certificate, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	block, _ := pem.Decode(text)
	if block == nil {
		return nil, fmt.Errorf("%s holds no certificate", path)
	}
	return x509.ParseCertificate(block.Bytes)
}

// writeFile puts a file in its place whole, for its owner's eyes only.
func writeFile(path string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*") // mode 0600
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}
