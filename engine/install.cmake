# What is installed: the program, its man page and completion, rules and example descriptions to read, and the engine as a
# library that find_package(packproof 0.1 CONFIG) finds. Packages for Debian are made of it by CPack (ci/package).

include(CMakePackageConfigHelpers)
set(written ${CMAKE_BINARY_DIR}/written)
set(documents ${CMAKE_INSTALL_DATAROOTDIR}/doc)

# Man page, completion and reference come from the program itself.
file(MAKE_DIRECTORY ${written})
add_custom_command(
  OUTPUT ${written}/packproof.1.gz ${written}/packproof.bash ${written}/_packproof ${written}/packproof.fish
  COMMAND packproof manual --man | gzip -9n > ${written}/packproof.1.gz
  COMMAND packproof manual --completion bash > ${written}/packproof.bash
  COMMAND packproof manual --completion zsh > ${written}/_packproof
  COMMAND packproof manual --completion fish > ${written}/packproof.fish
  DEPENDS packproof
  COMMENT "Writing man page and completion"
  VERBATIM)
add_custom_target(manual DEPENDS ${written}/packproof.1.gz)
add_custom_target(
  reference
  COMMAND ${CMAKE_COMMAND} -E rm -rf ${CMAKE_BINARY_DIR}/reference
  COMMAND packproof manual --pages ${CMAKE_BINARY_DIR}/reference
  DEPENDS packproof
  COMMENT "Writing the reference pages"
  VERBATIM)

# The folders of the engine that make the library, and a target to build all that is installed.
set(library_folders text units document model language solve rules facts inspect report)
list(TRANSFORM library_folders PREPEND engine_ OUTPUT_VARIABLE library_parts)
add_custom_target(installed ALL DEPENDS packproof manual engine_built_in ${library_parts})
foreach(part ${library_parts})
  target_include_directories(${part} PUBLIC $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/packproof>)
endforeach()
target_compile_features(engine INTERFACE cxx_std_20)
target_compile_options(engine INTERFACE -ffp-contract=off) # headers have arithmetic of intervals

install(TARGETS engine engine_built_in ${library_parts} EXPORT packproof_targets
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR}/packproof COMPONENT development)
install(EXPORT packproof_targets NAMESPACE packproof:: DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/packproof
        FILE packproof-targets.cmake COMPONENT development)
configure_package_config_file(${CMAKE_SOURCE_DIR}/engine/packproof-config.cmake.in ${written}/packproof-config.cmake
                              INSTALL_DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/packproof)
write_basic_package_version_file(${written}/packproof-config-version.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${written}/packproof-config.cmake ${written}/packproof-config-version.cmake
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/packproof COMPONENT development)
list(JOIN library_folders "|" folders_of_headers)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/engine DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/packproof COMPONENT development
        FILES_MATCHING REGEX "/engine/(${folders_of_headers})/[^/]*[.]hpp$"
        PATTERN "cli" EXCLUDE PATTERN "serve" EXCLUDE PATTERN "embed" EXCLUDE)

install(FILES ${written}/packproof.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
install(FILES ${written}/packproof.bash DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/bash-completion/completions
        RENAME packproof COMPONENT program)
install(FILES ${written}/_packproof DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/zsh/vendor-completions COMPONENT program)
install(FILES ${written}/packproof.fish DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/fish/vendor_completions.d
        COMPONENT program)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/rules DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/packproof COMPONENT program)
install(FILES ${CMAKE_SOURCE_DIR}/README.md ${CMAKE_SOURCE_DIR}/DEVELOPERS.md DESTINATION ${documents}/packproof
        COMPONENT program)
install(DIRECTORY ${CMAKE_SOURCE_DIR}/specs/ DESTINATION ${documents}/packproof/examples COMPONENT program)

# Packages for Debian. The sources state no licence, and neither do the packages.
file(WRITE ${written}/copyright "The sources of packproof state no licence.\n")
file(WRITE ${written}/changelog "packproof (${PROJECT_VERSION}) unstable; urgency=medium

  * This version: see README.md.

 -- The authors of packproof <packproof@example.invalid>  Fri, 27 Nov 2026 00:00:00 +0000
")
execute_process(COMMAND gzip -9nf ${written}/changelog)
foreach(package packproof packproof-dev)
  set(component program)
  if(package STREQUAL "packproof-dev")
    set(component development)
  endif()
  install(FILES ${written}/copyright ${written}/changelog.gz DESTINATION ${documents}/${package} COMPONENT ${component})
endforeach()

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME packproof)
set(CPACK_PACKAGE_CONTACT "The authors of packproof <packproof@example.invalid>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION electronics)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME packproof)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION "checks the design of a home-built battery pack
 Facts about a battery pack (cells, bolts, cables, breaker and more) are
 written down with units and tolerances and judged against rules; findings
 come with their working.")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME packproof-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SHLIBDEPS OFF)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
    "libtomlplusplus-dev, libfmt-dev, libre2-dev, nlohmann-json3-dev, pkg-config")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION "rule engine as a library for C++20
 Static libraries, headers and a configuration for CMake, to inspect
 descriptions of battery packs from a program of one's own.")
include(CPack)
