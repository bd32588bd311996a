# Finds Zstandard, which Debian packages without a package config: the target zstd::libzstd. Installed beside pulsewright's own config,
# because a consumer that links the static library needs it too.
find_path(ZSTD_INCLUDE_DIR zstd.h)
find_library(ZSTD_LIBRARY zstd)
mark_as_advanced(ZSTD_INCLUDE_DIR ZSTD_LIBRARY)

include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(zstd REQUIRED_VARS ZSTD_LIBRARY ZSTD_INCLUDE_DIR)

if(zstd_FOUND AND NOT TARGET zstd::libzstd)
  add_library(zstd::libzstd UNKNOWN IMPORTED)
  set_target_properties(zstd::libzstd PROPERTIES IMPORTED_LOCATION "${ZSTD_LIBRARY}" INTERFACE_INCLUDE_DIRECTORIES "${ZSTD_INCLUDE_DIR}")
endif()
