# `cmake --install` puts the program, the library, its headers and its package config in place; CPack makes a Debian package of the same files.
include(CMakePackageConfigHelpers)

set(pulsewright_config_folder ${CMAKE_INSTALL_LIBDIR}/cmake/pulsewright)

set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME program)
install(TARGETS pulsewright_program RUNTIME)
install(FILES README.md tools/CONTRACT.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY tools/schema DESTINATION ${CMAKE_INSTALL_DATADIR}/pulsewright FILES_MATCHING PATTERN *.json)
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)

# The program tells its manual page and completion itself. Debian keeps both compressed or not at all, and the changelog too.
set(told ${PROJECT_BINARY_DIR}/told)
install(CODE "
  file(MAKE_DIRECTORY \"${told}\")
  foreach(what manual-page completion=bash completion=zsh completion=fish)
    execute_process(COMMAND \"$<TARGET_FILE:pulsewright_program>\" --\${what} OUTPUT_FILE \"${told}/\${what}\" COMMAND_ERROR_IS_FATAL ANY)
  endforeach()
  file(ARCHIVE_CREATE OUTPUT \"${told}/pulsewright.1.gz\" PATHS \"${told}/manual-page\" FORMAT raw COMPRESSION GZip)
  file(ARCHIVE_CREATE OUTPUT \"${told}/changelog.gz\" PATHS \"${PROJECT_SOURCE_DIR}/tools/changelog\" FORMAT raw COMPRESSION GZip)
")
install(FILES ${told}/pulsewright.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${told}/changelog.gz DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${told}/completion=bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME pulsewright)
install(FILES ${told}/completion=zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions RENAME _pulsewright)
install(FILES ${told}/completion=fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d RENAME pulsewright.fish)

set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME library)
set(library_docs ${CMAKE_INSTALL_DATADIR}/doc/libpulsewright-dev)
install(TARGETS pulsewright EXPORT pulsewrightTargets ARCHIVE)
install(DIRECTORY include/pulsewright DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} FILES_MATCHING PATTERN *.hpp)
install(FILES DEVELOPERS.md DESTINATION ${library_docs})
install(FILES LICENSE DESTINATION ${library_docs} RENAME copyright)
install(EXPORT pulsewrightTargets NAMESPACE pulsewright:: DESTINATION ${pulsewright_config_folder})
configure_package_config_file(tools/cmake/pulsewrightConfig.cmake.in pulsewrightConfig.cmake
                              INSTALL_DESTINATION ${pulsewright_config_folder})
write_basic_package_version_file(pulsewrightConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/pulsewrightConfig.cmake ${PROJECT_BINARY_DIR}/pulsewrightConfigVersion.cmake
              tools/cmake/FindEDFlib.cmake DESTINATION ${pulsewright_config_folder})

set(CPACK_GENERATOR DEB)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_GROUPING IGNORE)
set(CPACK_PACKAGE_NAME pulsewright)
set(CPACK_PACKAGE_VENDOR "the pulsewright authors")
set(CPACK_PACKAGE_CONTACT "the pulsewright authors <pulsewright@example.org>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "heart rate, variability and effort from raw ECG or optical pulse")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
    "heart rate, variability and effort from raw ECG or optical pulse\nTurns raw sensor samples (ECG or optical pulse) into beat times, cleans them, derives heart rate and its variability, and says how hard\
 the heart worked against a person's own resting and maximum rate. Not a medical device.")
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION
    "library of pulsewright: heart rate and effort from raw signals\nThe C++20 library behind the program pulsewright, with its headers and a package config for CMake. Not a medical device.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME pulsewright)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libpulsewright-dev)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)  # what the program needs to run
# what a project that links the static library needs
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS "libfmt-dev, libedf-dev, libssl-dev")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SUGGESTS "cmake")
include(CPack)
