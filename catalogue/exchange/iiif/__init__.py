"""Photographs with what stands on them at its place: manifests for viewers, annotations for others."""
