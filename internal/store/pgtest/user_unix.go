//go:build unix

package pgtest

import (
	"os"
	"os/user"
	"strconv"
	"syscall"
)

// ordinaryUser lets a program run apart from the terminal's signals and, as PostgreSQL refuses root, as
// the user whom Debian makes for it, or as nobody.
func ordinaryUser() *syscall.SysProcAttr {
	attributes := &syscall.SysProcAttr{Setsid: true}
	if uid, gid, needed := other(); needed {
		attributes.Credential = &syscall.Credential{Uid: uid, Gid: gid}
	}
	return attributes
}

// give hands files to the ordinary user.
func give(paths ...string) error {
	uid, gid, needed := other()
	if !needed {
		return nil
	}
	for _, path := range paths {
		if err := os.Chown(path, int(uid), int(gid)); err != nil {
			return err
		}
	}
	return nil
}

func other() (uid, gid uint32, needed bool) {
	if os.Geteuid() != 0 {
		return 0, 0, false
	}
	for _, name := range []string{"postgres", "nobody"} {
		if found, err := user.Lookup(name); err == nil {
			u, _ := strconv.ParseUint(found.Uid, 10, 32) // numbers on every Unix
			g, _ := strconv.ParseUint(found.Gid, 10, 32)
			return uint32(u), uint32(g), true
		}
	}
	return 0, 0, false // initdb will say that it does not run as root
}
