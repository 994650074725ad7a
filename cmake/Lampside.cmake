# One place for how every part of Lampside is compiled, so that a room's own CMakeLists is three lines.
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)

find_program(CCACHE ccache)
if(CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${CCACHE})
endif()
find_program(MOLD mold)
find_program(LLD ld.lld)
if(MOLD AND NOT CMAKE_CXX_COMPILER_ID STREQUAL "Clang")
  add_link_options(-fuse-ld=mold)
elseif(LLD)
  add_link_options(-fuse-ld=lld)
endif()

find_package(PkgConfig REQUIRED)
find_package(fmt REQUIRED)
find_package(Threads REQUIRED)

add_library(lampside_options INTERFACE)
target_include_directories(lampside_options INTERFACE ${CMAKE_SOURCE_DIR}/src)
target_compile_options(lampside_options INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wnon-virtual-dtor -Wold-style-cast
  -Woverloaded-virtual -Wimplicit-fallthrough -Werror)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  # g++ 12 reports these inside its own <string> and <variant> at -O2 (GCC bugs 105329, 105562); clang checks ours.
  target_compile_options(lampside_options INTERFACE -Wno-restrict -Wno-maybe-uninitialized)
else()
  # libstdc++ 12 deprecates what its own stable sorts use; clang sees that inside its headers.
  target_compile_options(lampside_options INTERFACE -Wno-deprecated-declarations)
endif()
if(LAMPSIDE_SANITIZE)
  add_compile_options(-fsanitize=${LAMPSIDE_SANITIZE} -fno-omit-frame-pointer -fno-sanitize-recover=all)
  add_link_options(-fsanitize=${LAMPSIDE_SANITIZE})
  if(CMAKE_CXX_COMPILER_ID STREQUAL "Clang" AND LAMPSIDE_SANITIZE MATCHES address)
    add_compile_definitions(__SANITIZE_ADDRESS__=1)  # g++ says so by itself, clang 19 does not
  endif()
endif()
if(LAMPSIDE_FUZZ)
  add_compile_options(-fsanitize=fuzzer-no-link,address,undefined)
  add_link_options(-fsanitize=address,undefined)
endif()

# lampside_room(NAME [USES room...] [LIBS target...]): a library from all .cpp files of the calling folder.
function(lampside_room name)
  cmake_parse_arguments(ARG "" "" "USES;LIBS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
  list(TRANSFORM ARG_USES PREPEND lampside_)
  if(sources)
    add_library(lampside_${name} STATIC ${sources})
    target_link_libraries(lampside_${name} PUBLIC lampside_options ${ARG_USES} ${ARG_LIBS})
  else()
    add_library(lampside_${name} INTERFACE)
    target_link_libraries(lampside_${name} INTERFACE lampside_options ${ARG_USES} ${ARG_LIBS})
  endif()
endfunction()

# lampside_tests(NAME [USES room...] [LIBS target...]): one test program from all .cpp files of the calling folder.
function(lampside_tests name)
  cmake_parse_arguments(ARG "" "" "USES;LIBS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
  if(NOT sources)
    return()
  endif()
  list(TRANSFORM ARG_USES PREPEND lampside_)
  add_executable(test_${name} ${sources})
  target_link_libraries(test_${name} PRIVATE lampside_options ${ARG_USES} ${ARG_LIBS} GTest::gmock GTest::gtest_main)
  target_compile_definitions(test_${name} PRIVATE
    LAMPSIDE_SOURCE_DIR="${CMAKE_SOURCE_DIR}" LAMPSIDE_BINARY_DIR="${CMAKE_BINARY_DIR}")
  # What is tested is optimized, the tests themselves are not: they take most of the time a build takes.
  target_compile_options(test_${name} PRIVATE -O0)
  set_target_properties(test_${name} PROPERTIES RUNTIME_OUTPUT_DIRECTORY ${CMAKE_BINARY_DIR}/tests)
  add_test(NAME ${name} COMMAND test_${name})
endfunction()
