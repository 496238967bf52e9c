// Serve shows the built page on this machine.
//
//	go run ./tools/serve [-dir .build/site] [-port 8080]
package main

import (
	"flag"
	"fmt"
	"net"
	"net/http"
	"os"
	"strconv"
	"time"

	"threeply/tools/site"
)

// ports is how many ports are tried, from the wanted one up.
const ports = 20

func main() {
	dir := flag.String("dir", ".build/site", "folder to serve")
	port := flag.Int("port", 8080, "first port to try")
	flag.Parse()
	if err := serve(*dir, *port); err != nil {
		fmt.Fprintln(os.Stderr, "serve:", err)
		os.Exit(1)
	}
}

func serve(dir string, port int) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("%w; run make build first", err)
	}
	listener, err := listen(port)
	if err != nil {
		return err
	}
	fmt.Printf("Threeply is at http://%s/   (stop with Ctrl-C)\n", listener.Addr())
	server := &http.Server{Handler: site.Handler(root.FS()), ReadHeaderTimeout: 10 * time.Second}
	return server.Serve(listener)
}

// listen takes the first free port of this machine's own address, from the wanted one up.
func listen(port int) (net.Listener, error) {
	var last error
	for p := port; p < port+ports; p++ {
		listener, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(p)))
		if err == nil {
			return listener, nil
		}
		last = err
	}
	return nil, fmt.Errorf("no free port from %d to %d: %w", port, port+ports-1, last)
}
