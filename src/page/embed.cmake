# Writes the files of assets/ into one .cpp, so that the program needs no file beside it at run time.
# Used as: cmake -DFOLDER=... -DOUT=... -P embed.cmake
file(GLOB paths "${FOLDER}/*")
list(SORT paths)
set(arrays "")
set(rows "")
set(n 0)
foreach(path ${paths})
  get_filename_component(name "${path}" NAME)
  get_filename_component(extension "${path}" LAST_EXT)
  if(extension STREQUAL ".css")
    set(type "text/css; charset=utf-8")
  elseif(extension STREQUAL ".js")
    set(type "text/javascript; charset=utf-8")
  elseif(extension STREQUAL ".svg")
    set(type "image/svg+xml")
  else()
    message(FATAL_ERROR "assets/${name}: no content type is known for ${extension}; add it to embed.cmake")
  endif()
  file(READ "${path}" hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${hex}")
  string(APPEND arrays "constexpr char kFile${n}[] = {${bytes} '\\0'};\n")
  string(APPEND rows "    {\"${name}\", \"${type}\", {kFile${n}, sizeof kFile${n} - 1}},\n")
  math(EXPR n "${n} + 1")
endforeach()
file(WRITE "${OUT}" "// Made by embed.cmake from src/page/assets.
#include \"page/assets.hpp\"

namespace lampside::page {
namespace {
${arrays}}  // namespace

const std::vector<Asset>& embedded_assets() {
  static const std::vector<Asset> kAssets{
${rows}  };
  return kAssets;
}

}  // namespace lampside::page
")
