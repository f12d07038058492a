//! The fuzz targets are the binaries.
