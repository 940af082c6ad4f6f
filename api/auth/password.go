package auth

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
	"golang.org/x/text/unicode/norm"

	"benchmeet/domain/refusal"
)

// What a password is made of. The least argon2id of the OWASP Password Storage Cheat
// Sheet, 19 MiB and two passes by one thread, with the salt and the tag of RFC 9106,
// section 4.
const (
	passwordKiB    = 19 * 1024
	passwordPasses = 2
	passwordLanes  = 1
	saltBytes      = 16
	tagBytes       = 32
	// hashesAtOnce bounds the memory: whoever comes then waits for a turn.
	hashesAtOnce = 2
	// hashesWaiting bounds for how long: a hash takes less than a tenth of a second on a
	// small machine, so the last of them waits for about one.
	hashesWaiting = 24
)

// How many characters a password has: at least what NIST SP 800-63B-4, section 3.1.1.2,
// asks of one that stands alone, and no rule of what kinds.
const (
	shortestPassword = 15
	longestPassword  = 200
)

// ErrKeptPassword is returned for a hash that is none of argon2id.
var ErrKeptPassword = errors.New("what is kept of this password cannot be read: set it anew")

// Passwords hashes passwords and checks them, two at a time. It may be used from many
// goroutines.
type Passwords struct{ turns, queue chan struct{} }

// NewPasswords makes one; a server needs one alone.
func NewPasswords() *Passwords {
	return &Passwords{turns: make(chan struct{}, hashesAtOnce), queue: make(chan struct{}, hashesAtOnce+hashesWaiting)}
}

// Fit refuses a password that is too short to be hard to guess, or too long to be typed.
func Fit(password string) error {
	if n := utf8.RuneCountInString(norm.NFC.String(password)); n < shortestPassword || n > longestPassword {
		return refusal.New("password-length", "least", shortestPassword, "most", longestPassword)
	}
	return nil
}

// Hash is what is kept of a password: argon2id with its parameters and a salt of its own,
// in the form in which the reference implementation writes it. Hash and Check refuse
// where too many wait for theirs, and whoever gives up waiting leaves the queue.
func (p *Passwords) Hash(ctx context.Context, password string) (string, error) {
	made := kept{kib: passwordKiB, passes: passwordPasses, lanes: passwordLanes, salt: make([]byte, saltBytes)}
	rand.Read(made.salt) // never fails
	tag, err := p.tag(ctx, password, made, tagBytes)
	if err != nil {
		return "", err
	}
	made.tag = tag
	return made.String(), nil
}

// Check says whether a password is the one of which a hash was kept. Without a hash it
// takes as long and says no, so that nobody learns from the time which names there are.
func (p *Passwords) Check(ctx context.Context, password, hash string) (bool, error) {
	of := kept{kib: passwordKiB, passes: passwordPasses, lanes: passwordLanes, salt: make([]byte, saltBytes), tag: make([]byte, tagBytes)}
	if hash != "" {
		var err error
		if of, err = readKept(hash); err != nil {
			return false, err
		}
	}
	tag, err := p.tag(ctx, password, of, len(of.tag))
	if err != nil {
		return false, err
	}
	return subtle.ConstantTimeCompare(tag, of.tag) == 1 && hash != "", nil
}

func (p *Passwords) tag(ctx context.Context, password string, by kept, length int) ([]byte, error) {
	select {
	case p.queue <- struct{}{}:
	default:
		return nil, refusal.New("passwords-busy")
	}
	defer func() { <-p.queue }()
	select {
	case p.turns <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	defer func() { <-p.turns }()
	// RFC 8265, section 4.2.2: one machine types an accented letter as one character, another as two.
	typed := norm.NFC.Bytes([]byte(password))
	return argon2.IDKey(typed, by.salt, by.passes, by.kib, by.lanes, uint32(length)), nil //nolint:gosec // at most 64
}

// kept is a hash in its parts.
type kept struct {
	kib, passes uint32
	lanes       uint8
	salt, tag   []byte
}

var unpadded = base64.RawStdEncoding

func (k kept) String() string {
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s",
		argon2.Version, k.kib, k.passes, k.lanes, unpadded.EncodeToString(k.salt), unpadded.EncodeToString(k.tag))
}

// Bounds of what is read, so that a kept line takes no more of the machine than one that
// this program wrote ever did.
const (
	mostKiB    = 256 * 1024
	mostPasses = 16
	mostLanes  = 8
	mostTag    = 64
)

func readKept(hash string) (k kept, err error) {
	parts := strings.Split(hash, "$")
	if len(parts) != 6 || parts[0] != "" || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) {
		return k, ErrKeptPassword
	}
	_, err = fmt.Sscanf(parts[3], "m=%d,t=%d,p=%d", &k.kib, &k.passes, &k.lanes)
	k.salt, k.tag = unpadded64(parts[4]), unpadded64(parts[5])
	within := k.kib <= mostKiB && k.passes >= 1 && k.passes <= mostPasses && k.lanes >= 1 && k.lanes <= mostLanes &&
		len(k.salt) >= 8 && len(k.tag) >= 16 && len(k.tag) <= mostTag
	if err != nil || !within {
		return k, ErrKeptPassword
	}
	return k, nil
}

// unpadded64 is nil for what is no base64.
func unpadded64(text string) []byte {
	b, err := unpadded.DecodeString(text)
	if err != nil {
		return nil
	}
	return b
}
