package record

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFolderNameIsPlain(t *testing.T) {
	assert.Equal(t, "2026-11-14-kitchen-tap-54ed5e82", FolderName("2026-11-14T08:41:10-05:00", "Kitchen tap", "54ed5e826736"))
	assert.Equal(t, "54ed5e82", FolderName("", "", "54ed5e826736"))
	assert.Equal(t, "2026-1-4-54ed5e82", FolderName("2026/1/4", "", "54ed5e826736"))
}
