// Command floors is what the live feed's speed is measured against: broadcast servers
// that do nothing else. `make bench-live` starts them; see DEVELOPERS.md.
//
// It listens on a free port of loopback and prints the address. A GET of /live upgrades
// a connection. A POST to /go sends every listener the same frame; with -sync the body
// is written to that file and synced first, and then the POST is answered.
package main

import (
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
)

// broadcaster is a way to send one frame to all.
type broadcaster interface {
	http.Handler // takes a listener in
	broadcast()
}

func main() {
	size := flag.Int("frame", 4096, "bytes of a frame")
	sync := flag.String("sync", "", "a file that each POST is written to, and synced, before its broadcast")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "floors [flags] gorilla | plain | json")
		flag.PrintDefaults()
	}
	flag.Parse()
	if err := serve(flag.Arg(0), *size, *sync); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func serve(kind string, size int, sync string) error {
	mux := http.NewServeMux()
	switch kind {
	case "gorilla":
		feed(mux, newGorilla(size), sync)
	case "plain":
		feed(mux, newPlain(size), sync)
	case "json":
		mux.HandleFunc("POST /order", decode)
	default:
		flag.Usage()
		return fmt.Errorf("there is no floor %q", kind)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0") //nolint:noctx // it lives as long as the program
	if err != nil {
		return err
	}
	fmt.Println(listener.Addr())
	return (&http.Server{Handler: mux}).Serve(listener) //nolint:gosec // it is started by a benchmark alone
}

// feed serves a broadcaster.
func feed(mux *http.ServeMux, b broadcaster, sync string) {
	mux.Handle("GET /live", b)
	var file *os.File
	if sync != "" {
		var err error
		if file, err = os.OpenFile(sync, os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o600); err != nil {
			panic(err)
		}
	}
	mux.HandleFunc("POST /go", func(w http.ResponseWriter, r *http.Request) {
		body, err := io.ReadAll(r.Body)
		if err == nil && file != nil {
			if _, err = file.Write(body); err == nil {
				err = fdatasync(file)
			}
		}
		if err != nil {
			http.Error(w, err.Error(), http.StatusInternalServerError)
			return
		}
		b.broadcast()
	})
}
