package certificate

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"strings"
)

// Trusted is how a client speaks TLS that trusts the authorities of a file, or just the
// server or authority with a public key (see Fingerprint); with neither, those that the
// system trusts. It sends nothing before the server has shown that it is one of these.
func Trusted(file, fingerprint string) (*tls.Config, error) {
	config := &tls.Config{MinVersion: tls.VersionTLS12}
	if file != "" {
		text, err := os.ReadFile(file)
		if err != nil {
			return nil, fmt.Errorf("--ca: %w", err)
		}
		config.RootCAs = x509.NewCertPool()
		if cert, err := x509.ParseCertificate(text); err == nil { // as /trust hands it out
			config.RootCAs.AddCert(cert)
		} else if !config.RootCAs.AppendCertsFromPEM(text) {
			return nil, fmt.Errorf("--ca %s holds no certificate: give the file that the server's page /trust hands out", file)
		}
	}
	if fingerprint == "" {
		return config, nil
	}
	pin := strings.ToLower(strings.ReplaceAll(fingerprint, ":", ""))
	if raw, err := hex.DecodeString(pin); err != nil || len(raw) != 32 {
		return nil, errors.New("--fingerprint is 64 hexadecimal digits, as the server prints them at its start")
	}
	if file != "" {
		return nil, errors.New("give --ca or --fingerprint, not both")
	}
	// The key that is named stands in for the authorities of the system, so the check of
	// those is left out and made here, whole.
	config.InsecureSkipVerify = true
	config.VerifyConnection = func(state tls.ConnectionState) error { return pinned(state, pin) }
	return config, nil
}

// pinned checks the chain of a server against the one key that is trusted.
func pinned(state tls.ConnectionState, pin string) error {
	for i, cert := range state.PeerCertificates {
		if Fingerprint(cert) != pin {
			continue
		}
		roots, between := x509.NewCertPool(), x509.NewCertPool()
		roots.AddCert(cert)
		for _, one := range state.PeerCertificates[1:max(i, 1)] {
			between.AddCert(one)
		}
		if _, err := state.PeerCertificates[0].Verify(
			x509.VerifyOptions{Roots: roots, Intermediates: between, DNSName: state.ServerName},
		); err != nil {
			return &tls.CertificateVerificationError{UnverifiedCertificates: state.PeerCertificates, Err: err}
		}
		return nil
	}
	return &tls.CertificateVerificationError{
		UnverifiedCertificates: state.PeerCertificates,
		Err:                    errors.New("it is another server than the one whose fingerprint was given"),
	}
}
