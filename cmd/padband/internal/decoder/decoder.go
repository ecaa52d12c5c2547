// Package decoder decodes HEIC photos in a process of their own. That process is this
// program, called with a hidden first argument. The decoder itself has no bounds of
// time or memory, so the process has them: a fault of the decoder ends the process and
// not its parent. [HEIC] asks such a process, and [Answer] is what that process runs.
// The package decodes no other kind of photo.
package decoder

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"os/exec"
	"time"

	"padband/colorimetry/photo"
)

// Argument is the hidden first argument, which has this program call [Answer].
//
// The child reads width and height, 4 bytes each, and a plain HEIC file from
// standard input. It writes one of the marks below, and behind it the rows of
// luma, then of each chroma plane, without padding; or behind "FAIL" what is wrong.
const Argument = "decode-heic-for-padband"

// marks that begin the child's answer.
const (
	markGrey = "GREY"
	mark420  = "Y420"
	mark422  = "Y422"
	mark444  = "Y444"
	markFail = "FAIL"
)

var ratios = map[string]image.YCbCrSubsampleRatio{
	mark420: image.YCbCrSubsampleRatio420, mark422: image.YCbCrSubsampleRatio422, mark444: image.YCbCrSubsampleRatio444,
}

// Bounds of a child's time: the decoder starts in half a second and takes 0.15
// to 0.25 s a megapixel on a slow core; ten times that for a busy machine.
const (
	decodeStart     = 20 * time.Second
	decodeMegapixel = 2 * time.Second
)

// narrowest is the least width whose planes the decoder lays out as it says
// (version 0.4.5): below it rows of chroma are longer and run into each other.
const narrowest = 97

// HEIC is the [photo.HEICDecoder] that asks a child process.
func HEIC(plain []byte, width, height int) (image.Image, error) {
	if width < narrowest {
		return nil, &photo.UnsupportedError{What: fmt.Sprintf("this HEIC is stored only %d pixels wide", width),
			Advice: "send the original photo"}
	}
	self, err := os.Executable()
	if err != nil {
		return nil, fmt.Errorf("this program cannot find itself: %w", err)
	}
	return askChild(exec.Command(self, Argument), decodeTime(width, height), plain, width, height)
}

// decodeTime is what a child may take.
func decodeTime(width, height int) time.Duration {
	return decodeStart + time.Duration(float64(width)*float64(height)/1e6*float64(decodeMegapixel))
}

// askChild has a child decode, within a time.
func askChild(c *exec.Cmd, patience time.Duration, plain []byte, width, height int) (image.Image, error) {
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, c.Path, c.Args[1:]...)
	cmd.WaitDelay = time.Second
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(width)), uint32(height))
	cmd.Stdin = io.MultiReader(bytes.NewReader(head), bytes.NewReader(plain))
	answer, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("the decoder cannot be started: %w", err)
	}
	img, err := readAnswer(answer, width, height)
	if err != nil {
		_ = cmd.Process.Kill() // what more it has to say does not matter
	}
	ended := cmd.Wait()
	switch {
	case err == nil:
		return img, nil
	case ctx.Err() != nil:
		return nil, &photo.UnsupportedError{What: fmt.Sprintf("decoding this HEIC took over %.0f s", patience.Seconds()),
			Advice: "export the photo as JPEG or PNG"}
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return nil, stopped(ended)
	}
	return nil, err
}

// stopped is the error of a child that ended before its answer did.
func stopped(how error) error {
	if how == nil {
		return errors.New("its decoder stopped halfway")
	}
	return fmt.Errorf("its decoder stopped: %w", how)
}

// readAnswer reads a child's answer. Its size is known before, so that nothing
// the child writes can make it larger.
func readAnswer(r io.Reader, width, height int) (image.Image, error) {
	mark := make([]byte, 4)
	if _, err := io.ReadFull(r, mark); err != nil {
		return nil, err
	}
	bounds := image.Rect(0, 0, width, height)
	if string(mark) == markGrey {
		m := image.NewGray(bounds)
		_, err := io.ReadFull(r, m.Pix)
		return m, err
	}
	ratio, ok := ratios[string(mark)]
	if !ok {
		return nil, failure(string(mark), r)
	}
	m := image.NewYCbCr(bounds, ratio)
	for _, pixels := range [][]byte{m.Y, m.Cb, m.Cr} {
		if _, err := io.ReadFull(r, pixels); err != nil {
			return nil, err
		}
	}
	return m, nil
}

// failure is what the child says is wrong.
func failure(mark string, r io.Reader) error {
	text, err := io.ReadAll(io.LimitReader(r, 200))
	switch {
	case mark != markFail:
		return errors.New("its decoder answered nonsense")
	case err != nil:
		return err
	case string(text) == foreignLibrary:
		return &photo.UnsupportedError{What: "this build of padband would read HEIC with a library of this system",
			Advice: "use a release, or build with -tags nodynamic"}
	}
	return errors.New(string(text))
}
