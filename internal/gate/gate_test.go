package gate_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"overwinter/internal/fault"
	"overwinter/internal/gate"
)

// behind is a server with a gate before one path, which tells that a request came through by 204.
func behind(t *testing.T, hosts ...string) http.Handler {
	t.Helper()
	g, err := gate.New("8080", hosts...)
	if err != nil {
		t.Fatal(err)
	}
	e := echo.New()
	e.Use(g.Middleware)
	e.Any("/here", func(c echo.Context) error { return c.NoContent(http.StatusNoContent) })
	return e
}

func ask(h http.Handler, method, host string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, "http://"+host+"/here", strings.NewReader("a=b"))
	r.Host = host
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestOnlyHostsOfTheServiceAreAnswered(t *testing.T) {
	h := behind(t, "fuel.example", "tunnel.example:9000", "[2001:db8::1]")
	tests := []struct {
		host  string
		known bool
	}{
		{"localhost:8080", true},
		{"LOCALHOST:8080", true},
		{"localhost.:8080", true},
		{"127.0.0.1:8080", true},
		{"127.8.9.10:8080", true},
		{"[::1]:8080", true},
		{"[::ffff:127.0.0.1]:8080", true},
		{"fuel.example", true},
		{"fuel.example:8080", true},
		{"tunnel.example:9000", true},
		{"[2001:db8::1]", true},
		{"[2001:db8::1]:8080", true},

		{"rebound.example:8080", false},
		{"localhost:8081", false},
		{"localhost", false},
		{"127.0.0.1", false},
		{"localhost.rebound.example:8080", false},
		{"127.0.0.1.rebound.example:8080", false},
		{"fuel.example:8081", false},
		{"tunnel.example", false},
		{"tunnel.example:8080", false},
		{"192.168.1.7:8080", false},
		{"0.0.0.0:8080", false},
		{"[::]:8080", false},
		{"2130706433:8080", false}, // 127.0.0.1 as one number
		{"", false},
		{":8080", false},
		{"localhost:8080:8080", false},
		{"user@localhost:8080", false},
	}
	for _, tt := range tests {
		r := httptest.NewRequest("GET", "http://localhost:8080/here", nil)
		r.Host = tt.host
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		want := http.StatusMisdirectedRequest
		if tt.known {
			want = http.StatusNoContent
		}
		if w.Code != want {
			t.Errorf("host %q: %d, want %d", tt.host, w.Code, want)
		}
	}
}

func TestLoopbackWithoutAPortIsThatOfPort80(t *testing.T) {
	g, err := gate.New("80")
	if err != nil {
		t.Fatal(err)
	}
	e := echo.New()
	e.Use(g.Middleware)
	e.GET("/here", func(c echo.Context) error { return c.NoContent(http.StatusNoContent) })
	if got := ask(e, "GET", "localhost").Code; got != http.StatusNoContent {
		t.Errorf("localhost on port 80: %d", got)
	}
}

func TestWhatComesFromAnotherSiteIsRefused(t *testing.T) {
	const here = "127.0.0.1:8080"
	h := behind(t)
	tests := []struct {
		name    string
		method  string
		headers []string
		want    int
	}{
		{"a program without any header reads", "GET", nil, 204},
		{"a program without any header writes", "POST", []string{"Content-Type", "application/json"}, 204},
		{"the service's own form", "POST", []string{"Origin", "http://" + here, "Sec-Fetch-Site", "same-origin", "Content-Type", "application/x-www-form-urlencoded"}, 204},
		{"the service's own form in a browser without Sec-Fetch-Site", "POST", []string{"Origin", "http://" + here}, 204},
		{"the service's own script reads", "GET", []string{"Sec-Fetch-Site", "same-origin", "Sec-Fetch-Mode", "cors", "Sec-Fetch-Dest", "empty"}, 204},
		{"an address typed in", "GET", []string{"Sec-Fetch-Site", "none", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "document"}, 204},
		{"a link followed from another site", "GET", []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "document"}, 204},

		{"a foreign script posts text", "POST", []string{"Origin", "https://other.example", "Content-Type", "text/plain"}, 403},
		{"a foreign script posts JSON", "POST", []string{"Origin", "https://other.example", "Content-Type", "application/json"}, 403},
		{"a foreign script posts with Sec-Fetch-Site", "POST", []string{"Origin", "https://other.example", "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors"}, 403},
		{"another port of this machine posts", "POST", []string{"Origin", "http://127.0.0.1:9999", "Sec-Fetch-Site", "same-site"}, 403},
		{"another name of this machine posts", "POST", []string{"Origin", "http://localhost:8080"}, 403},
		{"a null origin posts", "POST", []string{"Origin", "null"}, 403},
		{"a foreign form", "POST", []string{"Origin", "https://other.example", "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "document", "Content-Type", "application/x-www-form-urlencoded"}, 403},
		{"a foreign PUT", "PUT", []string{"Sec-Fetch-Site", "cross-site"}, 403},
		{"a foreign DELETE", "DELETE", []string{"Origin", "https://other.example"}, 403},
		{"a foreign image", "GET", []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors", "Sec-Fetch-Dest", "image"}, 403},
		{"a foreign script element", "GET", []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors", "Sec-Fetch-Dest", "script"}, 403},
		{"a foreign fetch without cors", "GET", []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors", "Sec-Fetch-Dest", "empty"}, 403},
		{"a foreign fetch with cors", "GET", []string{"Origin", "https://other.example", "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "cors", "Sec-Fetch-Dest", "empty"}, 403},
		{"a foreign fetch in a browser without Sec-Fetch-Site", "GET", []string{"Origin", "https://other.example"}, 403},
		{"a null origin reads", "GET", []string{"Origin", "null"}, 403},
		{"a foreign frame", "GET", []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate", "Sec-Fetch-Dest", "iframe"}, 403},
		{"another port of this machine reads", "GET", []string{"Sec-Fetch-Site", "same-site", "Sec-Fetch-Mode", "no-cors", "Sec-Fetch-Dest", "image"}, 403},
		{"a preflight", "OPTIONS", []string{"Origin", "https://other.example", "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "cors", "Access-Control-Request-Method", "POST"}, 403},
		{"an unknown site", "GET", []string{"Sec-Fetch-Site", "elsewhere"}, 403},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := ask(h, tt.method, here, tt.headers...)
			if w.Code != tt.want {
				t.Errorf("answers %d, want %d", w.Code, tt.want)
			}
			for name := range w.Header() {
				if strings.HasPrefix(name, "Access-Control-") {
					t.Errorf("another origin is allowed something: %s", name)
				}
			}
		})
	}
}

func TestEveryAnswerTellsBrowsersToKeepItToTheService(t *testing.T) {
	h := behind(t)
	want := map[string]string{
		"Cross-Origin-Resource-Policy": "same-origin",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"X-Content-Type-Options":       "nosniff",
		"X-Frame-Options":              "DENY",
		"Referrer-Policy":              "same-origin",
		"Cache-Control":                "no-store",
	}
	for _, host := range []string{"localhost:8080", "rebound.example:8080"} {
		w := ask(h, "GET", host)
		for name, value := range want {
			if got := w.Header().Get(name); got != value {
				t.Errorf("%s: %s is %q, want %q", host, name, got, value)
			}
		}
	}
}

func TestAHostThatIsNoneIsRefusedAtTheStart(t *testing.T) {
	for _, host := range []string{"", "http://fuel.example", "a b", "fuel.example:80:80"} {
		if _, err := gate.New("8080", host); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q: %v, want an invalid host", host, err)
		}
	}
}

func FuzzAHostThatIsNotLoopbackIsNotAnswered(f *testing.F) {
	for _, s := range []string{"localhost:8080", "[::1]:8080", "rebound.example", "127.0.0.1.x:8080", "[", "]:", "a:b:c"} {
		f.Add(s)
	}
	g, err := gate.New("8080")
	if err != nil {
		f.Fatal(err)
	}
	e := echo.New()
	e.Use(g.Middleware)
	e.GET("/here", func(c echo.Context) error { return c.NoContent(http.StatusNoContent) })
	f.Fuzz(func(t *testing.T, host string) {
		r := httptest.NewRequest("GET", "http://localhost/here", nil)
		r.Host = host
		w := httptest.NewRecorder()
		e.ServeHTTP(w, r)
		mentions := strings.Contains(strings.ToLower(host), "localhost") || strings.Contains(host, "127.") || strings.Contains(host, "1")
		if w.Code == http.StatusNoContent && !(mentions && strings.HasSuffix(host, ":8080")) {
			t.Errorf("host %q is answered", host)
		}
	})
}
