package pseudonym

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
)

// Key is what codes are made from: with it the same name gets the same code
// in every hand-over, without it nobody can try names until a code fits.
type Key struct{ secret [32]byte }

// keyLine begins a key file, so that no other file is taken for one.
const keyLine = "repsift hand-over key 1 "

// OpenKey reads a key file, or makes it where there is none, readable by its
// owner only. made tells which.
func OpenKey(name string) (k *Key, made bool, err error) {
	k, err = ReadKey(name)
	if errors.Is(err, fs.ErrNotExist) {
		k, err = newKey(name)
		return k, true, err
	}
	return k, false, err
}

// ReadKey reads a key file.
func ReadKey(name string) (*Key, error) {
	b, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("the key file cannot be read: %w", err)
	}
	digits, ok := strings.CutPrefix(strings.TrimSpace(string(b)), keyLine)
	secret, err := hex.DecodeString(digits)
	if !ok || err != nil || len(secret) != sha256.Size {
		return nil, fmt.Errorf("%s is no key file: name one that repsift made, or one that is not there yet", name)
	}
	k := new(Key)
	copy(k.secret[:], secret)
	return k, nil
}

func newKey(name string) (*Key, error) {
	k := new(Key)
	rand.Read(k.secret[:]) // never fails
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("the key file cannot be made: %w", err)
	}
	_, err = fmt.Fprintf(f, "%s%s\n", keyLine, k.Text())
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return nil, errors.Join(fmt.Errorf("the key file cannot be written: %w", err), os.Remove(name))
	}
	return k, nil
}

// Text is the secret in hexadecimal, for making sure that it is nowhere.
func (k *Key) Text() string { return hex.EncodeToString(k.secret[:]) }

// ID tells one key from another and gives nothing away.
func (k *Key) ID() string { return hex.EncodeToString(k.mac("key", "")[:4]) }

// mac is the keyed hash of a text, of so many kinds of texts that do not get
// into each other's way.
func (k *Key) mac(kind, text string) []byte {
	h := hmac.New(sha256.New, k.secret[:])
	h.Write([]byte(kind))
	h.Write([]byte{0})
	h.Write([]byte(text))
	return h.Sum(nil)
}

// digits returns a code of eight decimal digits: no letters, which could spell
// a name.
func (k *Key) digits(kind, text string) string {
	return fmt.Sprintf("%08d", binary.BigEndian.Uint64(k.mac(kind, text))%1e8)
}

// Sum returns the keyed hash of a source's checksum, 64 hexadecimal digits.
func (k *Key) Sum(sha256 string) string { return hex.EncodeToString(k.mac("content", sha256)) }

// shiftWeeks is how far the dates of one lifter are moved back, at most.
const shiftWeeks = 260

// Shift returns by how many days the dates of a lifter are moved: back by whole
// weeks, so that days of the week and intervals stay, and never by none.
func (k *Key) Shift(lifter string) int32 {
	weeks := 1 + binary.BigEndian.Uint32(k.mac("shift", canonical(lifter)))%shiftWeeks
	return -7 * int32(weeks)
}
