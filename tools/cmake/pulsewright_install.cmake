# `cmake --install` puts the program, the library, its headers and its package config in place; CPack makes a Debian package of the same files.
include(CMakePackageConfigHelpers)

set(pulsewright_config_folder ${CMAKE_INSTALL_LIBDIR}/cmake/pulsewright)

install(TARGETS pulsewright_program RUNTIME)
install(TARGETS pulsewright EXPORT pulsewrightTargets ARCHIVE)
install(DIRECTORY include/pulsewright DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} FILES_MATCHING PATTERN *.hpp)
install(FILES README.md DEVELOPERS.md tools/CONTRACT.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY tools/schema DESTINATION ${CMAKE_INSTALL_DATADIR}/pulsewright FILES_MATCHING PATTERN *.json)
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)

install(EXPORT pulsewrightTargets NAMESPACE pulsewright:: DESTINATION ${pulsewright_config_folder})
configure_package_config_file(tools/cmake/pulsewrightConfig.cmake.in pulsewrightConfig.cmake
                              INSTALL_DESTINATION ${pulsewright_config_folder})
write_basic_package_version_file(pulsewrightConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/pulsewrightConfig.cmake ${PROJECT_BINARY_DIR}/pulsewrightConfigVersion.cmake
              tools/cmake/FindEDFlib.cmake DESTINATION ${pulsewright_config_folder})

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME pulsewright)
set(CPACK_PACKAGE_VENDOR "the pulsewright authors")
set(CPACK_PACKAGE_CONTACT "the pulsewright authors <pulsewright@example.org>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "heart rate, variability and effort from raw ECG or optical pulse")
set(CPACK_PACKAGE_DESCRIPTION
    "Turns raw sensor samples (ECG or optical pulse) into beat times, cleans them, derives heart rate and its variability, and says how hard\
 the heart worked against a person's own resting and maximum rate. A program, and a C++ library with its headers. Not a medical device.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)  # what the program needs to run
# what a project that links the static library needs
set(CPACK_DEBIAN_PACKAGE_SUGGESTS "cmake, libfmt-dev, libedf-dev, libssl-dev")
include(CPack)
