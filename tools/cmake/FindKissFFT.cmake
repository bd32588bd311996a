# Finds the header-only C++ form of KissFFT, which comes without a package config on Debian 12: the target KissFFT::KissFFT.
find_path(KISSFFT_INCLUDE_DIR kissfft/kissfft.hh)
mark_as_advanced(KISSFFT_INCLUDE_DIR)

include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(KissFFT REQUIRED_VARS KISSFFT_INCLUDE_DIR)

if(KissFFT_FOUND AND NOT TARGET KissFFT::KissFFT)
  add_library(KissFFT::KissFFT INTERFACE IMPORTED)
  set_target_properties(KissFFT::KissFFT PROPERTIES INTERFACE_INCLUDE_DIRECTORIES "${KISSFFT_INCLUDE_DIR}")
endif()
