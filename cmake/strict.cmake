# Warnings and sanitizers for our own code.
add_library(hoopwright_strict INTERFACE)
option(HOOPWRIGHT_WERROR "Warnings are errors" ON)
set(HOOPWRIGHT_SANITIZE "" CACHE STRING "Sanitizers to build with: address,undefined")
target_compile_options(hoopwright_strict INTERFACE -Wall -Wextra -Wshadow -Wpedantic -Wnon-virtual-dtor -Wold-style-cast
  -Woverloaded-virtual)
if(CMAKE_CXX_COMPILER_ID STREQUAL GNU)
  # g++ 12 at -O3 sees overlapping copies in "literal" + std::string, and strings used uninitialised in nested
  # aggregates, that are not there (GCC bugs 105651, 105562). -Wuninitialized stays.
  target_compile_options(hoopwright_strict INTERFACE -Wno-restrict -Wno-maybe-uninitialized)
endif()
if(HOOPWRIGHT_WERROR)
  target_compile_options(hoopwright_strict INTERFACE -Werror)
endif()
if(HOOPWRIGHT_SANITIZE)
  # What a sanitizer finds ends the program: a test must not pass over it.
  add_compile_options(-fsanitize=${HOOPWRIGHT_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer)
  add_link_options(-fsanitize=${HOOPWRIGHT_SANITIZE})
endif()
# Which leaks of other people's libraries the sanitizer passes over.
function(hoopwright_sanitized target)
  if(HOOPWRIGHT_SANITIZE MATCHES address)
    target_sources(${target} PRIVATE ${PROJECT_SOURCE_DIR}/cmake/sanitized.cpp)
    set_target_properties(${target} PROPERTIES ENABLE_EXPORTS ON)
  endif()
endfunction()
option(HOOPWRIGHT_FUZZ "Build tests/fuzz as libFuzzer programs (clang only)" OFF)
if(HOOPWRIGHT_FUZZ)
  if(NOT CMAKE_CXX_COMPILER_ID MATCHES Clang)
    message(FATAL_ERROR "HOOPWRIGHT_FUZZ needs clang: add -DCMAKE_CXX_COMPILER=clang++-14")
  endif()
  add_compile_options(-fsanitize=fuzzer-no-link)
endif()
