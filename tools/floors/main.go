// Command floors is what the speed of the server is measured against: servers that do one
// thing and nothing else. `make bench-live` and `make bench-append` start them; see
// DEVELOPERS.md.
//
// It listens on a free port of loopback and prints the address. Of a broadcast server a GET
// of /live upgrades a connection, and a POST to /go sends every listener the same frame;
// with -sync the body is written to that file and synced first, and then the POST is
// answered. Of the others a POST to /order is decoded and answered in JSON; with -database
// it is a row of an event and one of an answer first, in the stream that ?stream= numbers.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"

	"benchmeet/tools/rows"
)

// broadcaster is a way to send one frame to all.
type broadcaster interface {
	http.Handler // takes a listener in
	broadcast()
}

func main() {
	size := flag.Int("frame", 4096, "bytes of a frame")
	sync := flag.String("sync", "", "a file that each POST is written to, and synced, before its broadcast")
	database := flag.String("database", "", "an empty PostgreSQL database that each order is written to")
	streams := flag.Int("streams", 16, "streams of that database")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "floors [flags] gorilla | plain | json | rows")
		flag.PrintDefaults()
	}
	flag.Parse()
	if err := serve(flag.Arg(0), *size, *sync, *database, *streams); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func serve(kind string, size int, sync, database string, streams int) error {
	mux := http.NewServeMux()
	switch kind {
	case "gorilla":
		feed(mux, newGorilla(size), sync)
	case "plain":
		feed(mux, newPlain(size), sync)
	case "json":
		mux.HandleFunc("POST /order", decode)
	case "rows":
		to, err := rows.OpenPostgres(context.Background(), database, streams)
		if err != nil {
			return err
		}
		mux.HandleFunc("POST /order", decodeAndWrite(to, streams))
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
