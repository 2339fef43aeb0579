"""The last stage of output: whatever goes in, only red comes out. Standard library only, quick to import."""
