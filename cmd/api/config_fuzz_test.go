package main

import (
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/alecthomas/kong"

	"overwinter/internal/budget"
	"overwinter/internal/fault"
)

// FuzzNoFlagsAreTakenThatTheServiceCannotRunBy gives flags by the command line or the environment. What is taken is what was written, and
// listens at this machine alone; what is refused names its flag.
func FuzzNoFlagsAreTakenThatTheServiceCannotRunBy(f *testing.F) {
	f.Add(false, "127.0.0.1:8080", "example.com", "1", "1.62", "CAD", "text", "ledger.db\n")
	f.Add(true, "[::1]:0", "a.example:443,b.example", "18446744073709551615", "0", "cad", "json", "postgres://u:p@h/d")
	f.Add(true, "", "", "", "", "", "", "")
	f.Add(false, "0.0.0.0:80", "a/b", "-1", "NaN", "uſd", "TEXT", "a\nb")
	f.Add(false, "localhost:99999", "*", "0x10", "1e3", "€", "xml", " \r\n")
	f.Add(true, "127.0.0.1.example.com:80", "${x}", "1_0", "Inf", "USDD", "text", "\x00")
	f.Add(false, "[::ffff:127.0.0.1]:1", "", "01", "-0", "ıll", "text", "x")
	for _, listen := range []string{"0.0.0.0:80", "192.0.2.1:80", "[::]:1", ":80", "localhost.example:80"} {
		f.Add(false, listen, "", "1", "1", "CAD", "text", "x")
	}
	f.Fuzz(func(t *testing.T, environment bool, listen, hosts, seed, price, currency, log, ledger string) {
		file := filepath.Join(t.TempDir(), "url")
		if err := os.WriteFile(file, []byte(ledger), 0o600); err != nil {
			t.Fatal(err)
		}
		var args []string
		for _, x := range []struct{ flag, variable, value string }{
			{"listen", "OVERWINTER_LISTEN", listen}, {"host", "OVERWINTER_HOSTS", hosts}, {"seed", "OVERWINTER_SEED", seed}, {"price", "OVERWINTER_PRICE", price},
			{"currency", "OVERWINTER_CURRENCY", currency}, {"log", "OVERWINTER_LOG", log}, {"db-file", "OVERWINTER_DB_FILE", file},
		} {
			switch {
			case !environment:
				args = append(args, "--"+x.flag+"="+x.value)
			case strings.Contains(x.value, "\x00"):
				t.Skip("no environment holds this")
			default:
				t.Setenv(x.variable, x.value)
			}
		}
		var given flags
		parser, err := kong.New(&given, kong.Exit(func(int) { t.Fatal("the flags ended the program") }))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := parser.Parse(args); err != nil {
			return // told by the library
		}
		c, err := given.config()
		if err != nil {
			told, ok := err.(*fault.Error)
			if !ok || told.Kind != fault.Invalid || len(told.Fields) == 0 {
				t.Fatal(err)
			}
			for _, one := range told.Fields {
				if !strings.HasPrefix(one.Where, "--") || one.Message == "" {
					t.Fatalf("%+v", one)
				}
			}
			return
		}
		host, _, err := net.SplitHostPort(c.listen)
		if address := net.ParseIP(host); err != nil || c.listen != listen || host != "localhost" && (address == nil || !address.IsLoopback()) {
			t.Fatalf("%q is listened at", c.listen)
		}
		if n, ok := new(big.Int).SetString(seed, 10); !ok || n.Cmp(new(big.Int).SetUint64(c.seed)) != 0 {
			t.Fatalf("the seed %q is %d", seed, c.seed)
		}
		x, _, err := big.ParseFloat(price, 0, 53, big.ToNearestEven)
		if err != nil || x.Cmp(big.NewFloat(c.price.PerLitre)) != 0 || !(c.price.PerLitre >= 0 && c.price.PerLitre < budget.MostPerLitre) {
			t.Fatalf("the price %q is %v", price, c.price.PerLitre)
		}
		if len(currency) != 3 || !strings.EqualFold(currency, c.price.Currency) {
			t.Fatalf("the currency %q is %q", currency, c.price.Currency)
		}
		if c.logJSON != (log == "json") || c.db != strings.TrimSpace(ledger) || strings.ContainsAny(c.db, "\r\n") || c.db == "" {
			t.Fatalf("%+v", c)
		}
	})
}
