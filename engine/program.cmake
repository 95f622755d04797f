# The rules built into the library, the library as one target, and the thin program.

add_executable(embed_rules ${CMAKE_SOURCE_DIR}/engine/rules/embed/embed_rules.cpp)
target_link_libraries(embed_rules PRIVATE engine_rules warnings)

file(GLOB_RECURSE rule_files CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/rules/*.toml ${CMAKE_SOURCE_DIR}/rules/*.txt)
set(built_in_source ${CMAKE_BINARY_DIR}/generated/built_in_rules.cpp)
file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/generated)
add_custom_command(
  OUTPUT ${built_in_source}
  COMMAND embed_rules ${CMAKE_SOURCE_DIR}/rules ${built_in_source}
  DEPENDS embed_rules ${rule_files}
  COMMENT "Checking rules/ and building it in"
  VERBATIM)
# One long literal is what it is for.
set_source_files_properties(${built_in_source} PROPERTIES COMPILE_OPTIONS -Wno-overlength-strings)
add_library(engine_built_in STATIC ${built_in_source} ${CMAKE_SOURCE_DIR}/engine/rules/embed/built_in.cpp)
target_link_libraries(engine_built_in PUBLIC engine_rules PRIVATE $<BUILD_INTERFACE:warnings>)

# packproof::engine: everything but the commands.
add_library(engine INTERFACE)
target_link_libraries(engine INTERFACE engine_report engine_built_in)
add_library(packproof::engine ALIAS engine)

if(EXISTS ${CMAKE_SOURCE_DIR}/engine/main.cpp)
  add_executable(packproof ${CMAKE_SOURCE_DIR}/engine/main.cpp)
  target_link_libraries(packproof PRIVATE engine_cli engine_built_in warnings hardening)
  install(TARGETS packproof RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT program)
endif()

include(${CMAKE_SOURCE_DIR}/engine/install.cmake)
