package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// screens are the widths that pages are tried at: a phone's and a desk's.
var screens = []screen{
	{"phone", 390, 844, true},
	{"desk", 1280, 900, false},
}

type screen struct {
	name          string
	width, height int64
	mobile        bool
}

// tab is a page in a real browser.
type tab struct {
	t   *testing.T
	ctx context.Context
	url string
}

// chromium finds the browser. Without one the test is skipped, unless it must be there.
func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{os.Getenv("OVERWINTER_CHROMIUM"), "chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); name != "" && err == nil {
			return path
		}
	}
	if os.Getenv("OVERWINTER_TEST_CHROMIUM") == "required" {
		t.Fatal("no Chromium was found: name it in OVERWINTER_CHROMIUM")
	}
	t.Skip("no Chromium was found: name it in OVERWINTER_CHROMIUM")
	return ""
}

// browse opens a browser until the test ends.
func browse(t *testing.T) context.Context {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium(t)), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("Chromium does not start: %v", err)
	}
	return ctx
}

// openTab opens a tab of a screen's size, with or without script.
func openTab(t *testing.T, browser context.Context, url string, s screen, script bool) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(browser)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancel)
	b := &tab{t: t, ctx: ctx, url: url}
	options := []chromedp.EmulateViewportOption{}
	if s.mobile {
		options = append(options, chromedp.EmulateMobile, chromedp.EmulateTouch)
	}
	b.do(chromedp.EmulateViewport(s.width, s.height, options...))
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !script})
		return err
	}))
	return b
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, steps...); err != nil {
		b.t.Fatal(err)
	}
}

// evaluate gives the value of an expression on the page.
func evaluate[T any](b *tab, expression string) T {
	b.t.Helper()
	value, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return value
}

// visit opens a page of the service.
func (b *tab) visit(path string) { b.t.Helper(); b.do(chromedp.Navigate(b.url + path)) }

// follow presses what a selector finds and waits for the page that comes.
func (b *tab) follow(selector string) {
	b.t.Helper()
	if _, err := chromedp.RunResponse(b.ctx, chromedp.Click(chromedp.CSS(selector))); err != nil {
		b.t.Fatalf("%s: %v", selector, err)
	}
}

// fits checks that the page is no wider than the screen and asked for nothing of another host. It keeps
// a picture of it where OVERWINTER_PICTURES names a folder.
func (b *tab) fits(name string) {
	b.t.Helper()
	if over := evaluate[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 0 {
		b.t.Errorf("%s: the page is %d px wider than the screen", name, over)
	}
	for _, asked := range evaluate[[]string](b, `performance.getEntriesByType("resource").map(e => e.name)`) {
		if !strings.HasPrefix(asked, b.url) && !strings.HasPrefix(asked, "data:") {
			b.t.Errorf("%s: the page asks for %s, which is not of this service", name, asked)
		}
	}
	folder := os.Getenv("OVERWINTER_PICTURES")
	if folder == "" {
		return
	}
	picture, err := chromedp.Run(b.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o600); err != nil {
		b.t.Error(err)
	}
}

// text gives the text of the first element that a selector finds, texts those of all.
func (b *tab) text(selector string) string {
	b.t.Helper()
	all := b.texts(selector)
	if len(all) == 0 {
		b.t.Fatalf("the page has no %s", selector)
	}
	return all[0]
}

func (b *tab) texts(selector string) []string {
	b.t.Helper()
	return evaluate[[]string](b, fmt.Sprintf(`[...document.querySelectorAll(%q)].map(e => e.textContent.trim().replace(/\s+/g, " "))`, selector))
}
