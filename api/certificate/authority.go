package certificate

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// How long certificates last, and how long before their end there are new ones.
const (
	// AuthorityLasts is long enough for a season's halls and short enough that a phone
	// which nobody cleans up trusts nothing for ever.
	AuthorityLasts = 90 * 24 * time.Hour
	// AuthorityRenewed is how long before its end an authority has a successor. It has the
	// same key and name, so what phones trust already goes on to its own end.
	AuthorityRenewed = 21 * 24 * time.Hour
	leafLasts        = 30 * 24 * time.Hour
	leafRenewed      = 10 * 24 * time.Hour
	// slack is how far the clock of a phone may be behind.
	slack = 24 * time.Hour
)

// The files of an authority, in a folder of their own.
const (
	authorityFile = "authority.pem"
	authorityKey  = "authority-key.pem"
)

// Names are the host names and addresses that a server is reached by.
type Names struct {
	Hosts     []string // such as hall and hall.local
	Addresses []netip.Addr
}

// authority signs the certificates of one server.
type authority struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
}

// openAuthority reads the authority in a folder, and makes or renews it where there is
// none, where it is about to end or where it may not speak for all of the names.
// made says that phones have to trust what they have not seen.
func openAuthority(folder string, names Names, now time.Time) (a *authority, made bool, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, false, fmt.Errorf("no folder for the authority's key: %w", err)
	}
	key, err := readKey(filepath.Join(folder, authorityKey))
	if errors.Is(err, fs.ErrNotExist) {
		key, err = newKey(filepath.Join(folder, authorityKey))
	}
	if err != nil {
		return nil, false, err
	}
	a = &authority{key: key}
	a.cert, err = readCertificate(filepath.Join(folder, authorityFile))
	if err == nil && a.fits(names, now) {
		return a, false, nil
	}
	// What cannot be read is made anew: it holds nothing that is not in the key.
	if a.cert, err = selfSigned(key, names, now); err != nil {
		return nil, false, err
	}
	return a, true, writeFile(filepath.Join(folder, authorityFile), encoded("CERTIFICATE", a.cert.Raw))
}

// fits says whether the authority is still good for a while, and for these names.
func (a *authority) fits(names Names, now time.Time) bool {
	if !a.key.PublicKey.Equal(a.cert.PublicKey) || now.Before(a.cert.NotBefore) || now.Add(AuthorityRenewed).After(a.cert.NotAfter) {
		return false
	}
	for _, host := range names.Hosts {
		if !slices.Contains(a.cert.PermittedDNSDomains, host) {
			return false
		}
	}
	for _, address := range names.Addresses {
		if !slices.ContainsFunc(a.cert.PermittedIPRanges, func(one *net.IPNet) bool { return one.Contains(address.AsSlice()) }) {
			return false
		}
	}
	return true
}

// selfSigned makes the authority's own certificate. It may sign for servers of the
// names alone, and for no other authority: whoever gets hold of its key can put
// himself in this server's place and in nobody else's.
func selfSigned(key *ecdsa.PrivateKey, names Names, now time.Time) (*x509.Certificate, error) {
	if len(names.Hosts) == 0 || len(names.Addresses) == 0 {
		// A list that is empty would forbid nothing.
		return nil, errors.New("an authority has to be for some host names and some addresses")
	}
	serial, err := newSerial()
	if err != nil {
		return nil, err
	}
	wanted := &x509.Certificate{
		SerialNumber:                serial,
		Subject:                     pkix.Name{CommonName: "Benchmeet on " + names.Hosts[0]},
		NotBefore:                   now.Add(-slack),
		NotAfter:                    now.Add(AuthorityLasts),
		IsCA:                        true,
		BasicConstraintsValid:       true,
		MaxPathLenZero:              true,
		KeyUsage:                    x509.KeyUsageCertSign,
		ExtKeyUsage:                 []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         names.Hosts,
		PermittedIPRanges:           ranges(names.Addresses),
	}
	return signed(wanted, wanted, &key.PublicKey, key)
}

// leaf makes a certificate for the server, with a key of its own that stays in memory.
func (a *authority) leaf(names Names, now time.Time) (*ecdsa.PrivateKey, *x509.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, nil, err
	}
	serial, err := newSerial()
	if err != nil {
		return nil, nil, err
	}
	ends := now.Add(leafLasts)
	if ends.After(a.cert.NotAfter) {
		ends = a.cert.NotAfter
	}
	wanted := &x509.Certificate{
		SerialNumber: serial,
		Subject:      pkix.Name{CommonName: names.Hosts[0]},
		NotBefore:    now.Add(-slack),
		NotAfter:     ends,
		KeyUsage:     x509.KeyUsageDigitalSignature,
		ExtKeyUsage:  []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		DNSNames:     names.Hosts,
	}
	for _, address := range names.Addresses {
		wanted.IPAddresses = append(wanted.IPAddresses, address.AsSlice())
	}
	cert, err := signed(wanted, a.cert, &key.PublicKey, a.key)
	return key, cert, err
}

func signed(wanted, by *x509.Certificate, of crypto.PublicKey, key *ecdsa.PrivateKey) (*x509.Certificate, error) {
	raw, err := x509.CreateCertificate(rand.Reader, wanted, by, of, key)
	if err != nil {
		return nil, err
	}
	return x509.ParseCertificate(raw)
}

func newSerial() (*big.Int, error) {
	return rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 126))
}

// Fingerprint names the public key of a certificate: SHA-256 of the key's DER form, in
// hexadecimal. It stays the same when an authority is renewed.
func Fingerprint(cert *x509.Certificate) string {
	sum := sha256.Sum256(cert.RawSubjectPublicKeyInfo)
	return hex.EncodeToString(sum[:])
}

func encoded(kind string, raw []byte) []byte {
	return pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: raw})
}
