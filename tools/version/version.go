// Package version tells the version that programs are built as, and how they are told it.
package version

import (
	"os/exec"
	"strings"
)

// Changed ends the version of a checkout that holds more than its commit.
const Changed = "+changed"

// Of is the version of the checkout that this runs in: the tag of its commit, else the
// commit's day and its short hash; "" where git does not know it.
func Of() string {
	commit := git("log", "-1", "--abbrev=12", "--format=%cd-%h", "--date=format:%Y.%m.%d")
	if commit == "" {
		return ""
	}
	if tag := git("describe", "--tags", "--exact-match"); tag != "" {
		commit = tag
	}
	if git("status", "--porcelain", "--untracked-files=no") != "" {
		commit += Changed
	}
	return commit
}

func git(args ...string) string {
	out, err := exec.Command("git", args...).Output()
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(out))
}

// Linked are the linker's flags of a program: without symbols and without anything of the
// machine that it is built on, and the version.
func Linked(version string) string {
	flags := "-s -w -buildid="
	if version != "" {
		flags += " -X threeply/proof/label.version=" + version
	}
	return flags
}
