# How every target of the project is compiled. Results must be the same bytes on any x86-64 machine: baseline instruction set, no fast-math,
# no contraction of a * b + c into one rounding.
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)

add_library(pulsewright_compile INTERFACE)
target_compile_options(
  pulsewright_compile
  INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Werror -ffp-contract=off)
# GCC 12 sees overlaps and bounds that are none where pieces of text are joined (its bugs 105329 and 105651); clang and the sanitizers look too.
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  target_compile_options(pulsewright_compile INTERFACE -Wno-array-bounds -Wno-restrict)
endif()
if(CMAKE_SYSTEM_PROCESSOR MATCHES "x86_64|AMD64")
  target_compile_options(pulsewright_compile INTERFACE -march=x86-64 -mfpmath=sse)
endif()
# Eigen would take square roots of floats by an approximation that processors of different makers give differently.
target_compile_definitions(pulsewright_compile INTERFACE EIGEN_FAST_MATH=0)
if(PULSEWRIGHT_SANITIZE)
  target_compile_options(pulsewright_compile INTERFACE -fsanitize=address,undefined -fno-sanitize-recover=all -g -O1)
  target_link_options(pulsewright_compile INTERFACE -fsanitize=address,undefined)
endif()

# Precompiled headers and ccache get along only when both are told.
if(CMAKE_CXX_COMPILER_LAUNCHER MATCHES "ccache$")
  list(PREPEND CMAKE_CXX_COMPILER_LAUNCHER ${CMAKE_COMMAND} -E env CCACHE_SLOPPINESS=pch_defines,time_macros)
endif()
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  target_compile_options(pulsewright_compile INTERFACE -fpch-preprocess)
endif()
