//go:build !unix

package pgtest

import "syscall"

func ordinaryUser() *syscall.SysProcAttr { return nil }

func give(...string) error { return nil }
