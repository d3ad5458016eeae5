// Package gate decides who may ask. The service listens on loopback and asks for no sign-in, so what
// protects it from the web pages that its user visits is the browser: each of them can make the browser
// send requests here. The gate answers only those that come from the service's own pages, from a person
// who follows a link, or from a program that is no browser.
package gate

import (
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
)

// Gate holds which hosts the service answers for. It may be used from several goroutines.
type Gate struct {
	port  string
	hosts map[string]bool
	cross *http.CrossOriginProtection
}

// New makes a gate for a service that listens on a port. Hosts are further names that it answers for,
// such as that of a proxy before it: a name alone goes with the service's port and with none, a name with
// a port goes with that port alone.
//
// The error is fault.Invalid where a host is not one.
func New(port string, hosts ...string) (*Gate, error) {
	g := &Gate{port: port, hosts: map[string]bool{}, cross: http.NewCrossOriginProtection()}
	for _, h := range hosts {
		name, of, err := split(h)
		if err != nil {
			return nil, fault.Wrap(fault.Invalid, err, "%q is no host: expected a name or an address, with a port or without", h)
		}
		if of != "" {
			g.hosts[net.JoinHostPort(name, of)] = true
			continue
		}
		g.hosts[name], g.hosts[net.JoinHostPort(name, port)] = true, true
	}
	return g, nil
}

// Middleware lets a request through or answers why not, as an error for the server's error handler. What
// it says to browsers it says with every answer.
func (g *Gate) Middleware(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		protect(c.Response().Header())
		r := c.Request()
		if !g.knows(r.Host) {
			return echo.NewHTTPError(http.StatusMisdirectedRequest,
				"this service does not answer for that host: use the address that it listens on, or allow the name in its settings")
		}
		if err := g.cross.Check(r); err != nil {
			return echo.NewHTTPError(http.StatusForbidden, "another site may not write here").SetInternal(err)
		}
		if foreign(r) {
			return echo.NewHTTPError(http.StatusForbidden, "another site may not read here")
		}
		return next(c)
	}
}

// protect sets what browsers are told: who may embed, keep or guess at an answer. No header ever allows
// another origin anything. A handler may set another Cache-Control.
func protect(h http.Header) {
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}

// knows tells whether the service answers for a host. A name that an attacker has pointed at this machine
// (DNS rebinding) makes his pages same-origin with it, and is told apart by the Host header alone.
func (g *Gate) knows(host string) bool {
	name, port, err := split(host)
	if err != nil {
		return false
	}
	if g.hosts[name] && port == "" || g.hosts[net.JoinHostPort(name, port)] {
		return true
	}
	return loopback(name) && (port == g.port || port == "" && g.port == "80")
}

func loopback(name string) bool {
	if name == "localhost" {
		return true
	}
	address, err := netip.ParseAddr(name)
	return err == nil && address.Unmap().IsLoopback()
}

// split reads a host as requests carry it: name, name:port, [address] or [address]:port.
func split(host string) (name, port string, err error) {
	if bare, ok := strings.CutPrefix(host, "["); ok && strings.HasSuffix(bare, "]") {
		name = strings.TrimSuffix(bare, "]")
	} else if strings.Contains(host, ":") {
		if name, port, err = net.SplitHostPort(host); err != nil {
			return "", "", err
		}
		if _, err := strconv.ParseUint(port, 10, 16); err != nil {
			return "", "", err
		}
	} else {
		name = host
	}
	if name == "" || strings.ContainsAny(name, "[]/@ \t") {
		return "", "", &net.AddrError{Err: "no host", Addr: host}
	}
	return strings.ToLower(strings.TrimSuffix(name, ".")), port, nil
}

// foreign tells whether a page of another origin reads here without showing the answer as a page of its
// own: an image, a script, a frame, a fetch. Browsers say so in Sec-Fetch-Site; what is older than that
// header still says Origin where a script asks across origins.
func foreign(r *http.Request) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "same-origin", "none":
		return false
	case "":
		origin := r.Header.Get("Origin")
		return origin != "" && !sameHost(origin, r.Host)
	}
	return r.Header.Get("Sec-Fetch-Mode") != "navigate" || r.Header.Get("Sec-Fetch-Dest") != "document"
}

func sameHost(origin, host string) bool {
	_, of, ok := strings.Cut(origin, "://")
	return ok && strings.EqualFold(of, host)
}
