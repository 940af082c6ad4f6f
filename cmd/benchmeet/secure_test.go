package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"encoding/json"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/auth"
	"benchmeet/api/certificate"
	"benchmeet/api/gen"
	"benchmeet/api/node"
)

// overTLS is a server with an authority of its own beside plain http.
func overTLS(o *serverOptions) { o.TLS = tlsSettings{Mode: "local", Listen: "127.0.0.1:0"} }

// secureURL is the address of https on this machine.
func (w *wired) secureURL() string { return w.server.secure.addresses()[0] }

// trusting is a client that trusts the server's authority.
func (w *wired) trusting() *http.Client {
	w.t.Helper()
	config, err := certificate.Trusted("", w.server.secure.about().Authority.Key)
	if err != nil {
		w.t.Fatal(err)
	}
	return &http.Client{Transport: &http.Transport{TLSClientConfig: config, DisableKeepAlives: true}}
}

// signInAt signs in at an address and returns the cookie.
func (w *wired) signInAt(client *http.Client, address string) string {
	w.t.Helper()
	// A link signs in one browser, so each gets one of its own.
	link, _, err := w.server.tokens.Make(w.t.Context(), auth.Wish{Club: "harbour", Role: auth.Organiser, Label: "browser"})
	if err != nil {
		w.t.Fatal(err)
	}
	body := `{"token":"` + link + `"}`
	res, err := client.Post(address+"/api/v1/session", "application/json", strings.NewReader(body))
	if err != nil {
		w.t.Fatal(err)
	}
	res.Body.Close()
	if res.StatusCode != http.StatusOK {
		w.t.Fatalf("%s: %d", address, res.StatusCode)
	}
	return res.Header.Get("Set-Cookie")
}

// TestHTTPSBesideHTTP: both answer, neither sends a browser to the other, a cookie is
// kept to https where it came by it and only there, and the live feed comes over both.
func TestHTTPSBesideHTTP(t *testing.T) {
	w := newWired(t, "", overTLS)
	w.smallMeet()
	if got := w.signInAt(w.trusting(), w.secureURL()); !strings.Contains(got, "Secure") {
		t.Errorf("the cookie of https: %q", got)
	}
	if got := w.signInAt(http.DefaultClient, w.server.url()); got == "" || strings.Contains(got, "Secure") {
		t.Errorf("the cookie of http: %q", got)
	}
	// A browser that was signed in over https can sign in over http too: it would refuse
	// a cookie of the same name.
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	phone := w.trusting()
	phone.Jar = jar
	for _, address := range []string{w.secureURL(), w.server.url()} {
		w.signInAt(phone, address)
		res, err := phone.Get(address + "/api/v1/session")
		if err != nil {
			t.Fatal(err)
		}
		var who gen.Session
		if err := json.NewDecoder(res.Body).Decode(&who); err != nil || who.Role != gen.RoleOrganiser {
			t.Errorf("%s: the phone is %q (%v)", address, who.Role, err)
		}
		res.Body.Close()
	}
	if names := cookieNames(w.signInAt(phone, w.secureURL()), w.signInAt(phone, w.server.url())); names[0] == names[1] {
		t.Errorf("one cookie for both: %q", names)
	}
	for client, address := range map[*http.Client]string{w.trusting(): w.secureURL(), {}: w.server.url()} {
		client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
		for _, path := range []string{"/", "/desk", "/bench/b1", "/trust", "/api/v1/meets"} {
			res, err := client.Get(address + path)
			if err != nil {
				t.Fatal(err)
			}
			res.Body.Close()
			if res.StatusCode != http.StatusOK || res.Header.Get("Strict-Transport-Security") != "" {
				t.Errorf("%s%s: %d %v", address, path, res.StatusCode, res.Header)
			}
		}
	}
	dialer := websocket.Dialer{TLSClientConfig: w.trusting().Transport.(*http.Transport).TLSClientConfig}
	conn, res, err := dialer.Dial("wss"+strings.TrimPrefix(w.secureURL(), "https")+meetPath+"/live?topics=board", nil)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	defer conn.Close()
	(&feed{t, conn}).until("board", func(int64, json.RawMessage) bool { return true })

	var about gen.About
	a := w.send(request{method: http.MethodGet, path: "/api/v1/about"})
	if err := json.Unmarshal(a.body, &about); err != nil || about.Secure == nil || about.Secure.Authority == nil {
		t.Fatalf("what the server says of itself: %s %v", a.body, err)
	}
	// What /trust hands out is all that a phone needs.
	out, err := http.Get(w.server.url() + authorityPath)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Body.Close()
	file := filepath.Join(t.TempDir(), "authority")
	raw, err := io.ReadAll(out.Body)
	if err != nil || os.WriteFile(file, raw, 0o600) != nil || out.Header.Get("Content-Type") != "application/x-x509-ca-cert" {
		t.Fatalf("%v %v", err, out.Header)
	}
	config, err := certificate.Trusted(file, "")
	if err != nil {
		t.Fatal(err)
	}
	w.signInAt(&http.Client{Transport: &http.Transport{TLSClientConfig: config, DisableKeepAlives: true}}, w.secureURL())
}

func cookieNames(cookies ...string) (names []string) {
	for _, one := range cookies {
		name, _, _ := strings.Cut(one, "=")
		names = append(names, name)
	}
	return names
}

// TestWhoSaysThatItWasTLS: a proxy on this machine or one that is named is believed,
// and nobody else can have a cookie marked so that it never comes back.
func TestWhoSaysThatItWasTLS(t *testing.T) {
	named := proxies{netip.MustParsePrefix("10.0.0.7/32")}
	for _, tt := range []struct {
		from     string
		believed bool
	}{{"127.0.0.1:80", true}, {"[::1]:80", true}, {"10.0.0.7:80", true}, {"10.0.0.8:80", false}, {"[2001:db8::1]:80", false}} {
		for _, name := range []string{"X-Forwarded-Proto", "X-Forwarded-Protocol", "X-Forwarded-Ssl", "X-Url-Scheme"} {
			r := httptest.NewRequest(http.MethodGet, "/", nil)
			r.RemoteAddr = tt.from
			r.Header.Set(name, "https")
			got := false
			named.honest(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
				got = r.Header.Get(name) != ""
			})).ServeHTTP(httptest.NewRecorder(), r)
			if got != tt.believed {
				t.Errorf("%s from %s: believed is %v", name, tt.from, got)
			}
		}
	}
}

// discard takes what nobody looks at.
var discard = slog.New(slog.DiscardHandler)

// heard is a log that is written and read at a time.
type heard struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (h *heard) Write(p []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.Write(p)
}

func (h *heard) String() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.String()
}

// impostor is somebody in the server's place with a certificate of an authority of his
// own; it notes what it can read.
type impostor struct {
	*httptest.Server
	mu   sync.Mutex
	read bytes.Buffer
}

func newImpostor(t *testing.T) *impostor {
	names := func() certificate.Names {
		return certificate.Names{Hosts: []string{"localhost"}, Addresses: []netip.Addr{loopback}}
	}
	source, _, err := certificate.OpenLocal(t.TempDir(), names, time.Now, discard)
	if err != nil {
		t.Fatal(err)
	}
	i := &impostor{}
	i.Server = httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body, _ := io.ReadAll(r.Body)
		i.mu.Lock()
		defer i.mu.Unlock()
		i.read.WriteString(r.Method + r.URL.String() + r.Header.Get("Authorization") + string(body))
	}))
	i.Listener = tls.NewListener(i.Listener, certificate.Config(source))
	i.Start()
	t.Cleanup(i.Close)
	return i
}

// TestANodeTellsItsKeyToItsServerAlone: to somebody else in its place it sends not a
// byte, keeps what it has on disk, and hands it in where it finds the server again.
func TestANodeTellsItsKeyToItsServerAlone(t *testing.T) {
	w := newWired(t, "", overTLS)
	w.do(http.MethodPut, "/api/v1/benches/b1", `{"number":1,"circumference_mm":100}`)
	folder := t.TempDir()
	spool, err := node.OpenSpool(filepath.Join(folder, "b1"))
	if err != nil {
		t.Fatal(err)
	}
	chunk := `{"boot":"00000000000000aa","run":"r1","number":0,"stamps_us":[1,2,3]}`
	if err := spool.Put([]byte(chunk), nil); err != nil {
		t.Fatal(err)
	}
	kept := func() int {
		numbers, err := spool.Waiting()
		if err != nil {
			t.Fatal(err)
		}
		return len(numbers)
	}
	impostor := newImpostor(t)
	agent := func(server, fingerprint string, until func() bool) string {
		t.Helper()
		ctx, stop := context.WithTimeout(t.Context(), 3*time.Second)
		defer stop()
		var log heard
		cmd := newNodeCommand()
		cmd.SetArgs([]string{
			"--server", server, "--fingerprint", fingerprint, "--bench", "b1", "--spool", folder,
			"--token", w.tokens[auth.Box], "--simulate", "6000",
		})
		cmd.SetErr(&log)
		go func() {
			for ctx.Err() == nil && !until() {
				time.Sleep(20 * time.Millisecond)
			}
			stop()
		}()
		if err := cmd.ExecuteContext(ctx); err != nil {
			t.Fatal(err)
		}
		return log.String()
	}
	pin := w.server.secure.about().Authority.Key
	address := "https://" + impostor.Listener.Addr().String()
	log := agent(address, pin, func() bool { return false })
	impostor.mu.Lock()
	if impostor.read.Len() > 0 || kept() != 1 {
		t.Errorf("somebody else read %q, and %d chunks are kept", impostor.read.String(), kept())
	}
	impostor.mu.Unlock()
	if !strings.Contains(log, "nothing was sent") || strings.Contains(log, w.tokens[auth.Box]) {
		t.Errorf("the node says %s", log)
	}
	agent(w.secureURL(), pin, func() bool { return kept() == 0 })
	if kept() != 0 {
		t.Error("the node did not hand in to its own server what it kept")
	}
}

// TestANodeFollowsNobodyElsewhere: a redirect takes a node's key nowhere.
func TestANodeFollowsNobodyElsewhere(t *testing.T) {
	asked := make(chan string, 10)
	elsewhere := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		asked <- r.Header.Get("Authorization")
	}))
	defer elsewhere.Close()
	// Another port of the same host: Go's client would take the key along.
	portal := httptest.NewServer(http.RedirectHandler(elsewhere.URL, http.StatusTemporaryRedirect))
	defer portal.Close()
	client, err := nodeSettings{server: portal.URL}.client(discard)
	if err != nil {
		t.Fatal(err)
	}
	server := node.Server{Base: portal.URL, Bench: "b1", Token: "a-key", HTTP: client}
	if _, err := server.Order(t.Context(), false); err == nil {
		t.Error("a redirect is an order")
	}
	select {
	case key := <-asked:
		t.Errorf("the node followed with the key %q", key)
	default:
	}
}

// TestWrongTLSSettings: what does not go together is said before anything starts.
func TestWrongTLSSettings(t *testing.T) {
	for _, args := range [][]string{
		{"--tls", "letsgo"},
		{"--tls-cert", "a.pem"},
		{"--tls", "local", "--tls-cert", "a.pem", "--tls-key", "b.pem"},
		{"--tls-cert", "/nowhere/a.pem", "--tls-key", "/nowhere/b.pem", "--tls-listen", "127.0.0.1:0"},
	} {
		args = append([]string{"serve", "--listen", "127.0.0.1:0", "--data", t.TempDir()}, args...)
		if code, _, stderr := runHere(t, args...); code == 0 || !strings.Contains(stderr, "tls") && !strings.Contains(stderr, "certificate") {
			t.Errorf("%v: %d %s", args, code, stderr)
		}
	}
}

// TestAddressesOfWhereTheServerListens: one that listens at one address names that.
func TestAddressesOfWhereTheServerListens(t *testing.T) {
	for at, want := range map[string]string{
		"127.0.0.1:8080": "http://127.0.0.1:8080", "[::1]:8080": "http://[::1]:8080", "192.0.2.7:80": "http://192.0.2.7:80",
	} {
		s := &server{address: net.TCPAddrFromAddrPort(netip.MustParseAddrPort(at))}
		if got := s.url(); got != want {
			t.Errorf("%s: %s", at, got)
		}
		if got := s.addresses(); len(got) != 1 || got[0] != want {
			t.Errorf("%s: %v", at, got)
		}
	}
	s := &server{address: net.TCPAddrFromAddrPort(netip.MustParseAddrPort("[::]:8080"))}
	if got := s.url(); got != "http://127.0.0.1:8080" {
		t.Error(got)
	}
}
