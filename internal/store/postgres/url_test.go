package postgres

import (
	"strings"
	"testing"
	"time"
)

func TestTheURLHasTheLastWord(t *testing.T) {
	for _, c := range []struct {
		url      string
		maxConns int32
		timeout  time.Duration
		lock     string
		tls      bool
	}{
		{"postgres://u:p@localhost/db?sslmode=disable", 10, 10 * time.Second, "30s", false},
		{"postgres://u:p@localhost/db?sslmode=disable&pool_max_conns=25&connect_timeout=3&lock_timeout=1s", 25, 3 * time.Second, "1s", false},
		{"postgresql://u:p@localhost/db?sslmode=require", 10, 10 * time.Second, "30s", true},
		{"postgresql://u:p@localhost/db?sslmode=verify-full", 10, 10 * time.Second, "30s", true},
	} {
		config, err := parse(c.url)
		if err != nil {
			t.Fatalf("%s: %v", c.url, err)
		}
		settle(config, c.url)
		conn := config.ConnConfig
		if config.MaxConns != c.maxConns || conn.ConnectTimeout != c.timeout || conn.RuntimeParams["lock_timeout"] != c.lock || (conn.TLSConfig != nil) != c.tls {
			t.Errorf("%s: %d connections, %v, %s, TLS %t", c.url, config.MaxConns, conn.ConnectTimeout, conn.RuntimeParams["lock_timeout"], conn.TLSConfig != nil)
		}
		if c.tls && strings.HasSuffix(c.url, "verify-full") && conn.TLSConfig.ServerName != "localhost" {
			t.Errorf("%s: the certificate is not held against the host", c.url)
		}
	}
}

// FuzzRedacted holds that no part of a password is shown, however it is written.
func FuzzRedacted(f *testing.F) {
	for _, password := range []string{"plain", "a/b", "a@b", "a?b", "a#b", "a:b", "a%b", "1/b@c", "%zz", " ", "[::1]", "a&b=c"} {
		f.Add(password)
	}
	f.Fuzz(func(t *testing.T, password string) {
		const mark = "SECRET"
		for _, url := range []string{
			"postgres://user:" + password + mark + "@host/db",
			"postgres://user:" + mark + password + "@host:5432/db?sslmode=disable",
			"postgres://user@host/db?password=" + mark + password,
		} {
			shown := Redacted(url)
			_, err := parse(url)
			if err != nil {
				shown += err.Error()
			}
			if strings.Contains(shown, mark) {
				t.Errorf("%s shows %s", url, shown)
			}
		}
	})
}
