# Puts the page's files into a source file: cmake -DFROM=folder -DOUT=page.cpp -P pack_page.cmake
# Without a folder there is one page that says so.
cmake_minimum_required(VERSION 3.25)
set(types html "text/html; charset=utf-8" js "text/javascript; charset=utf-8" css "text/css; charset=utf-8"
          svg "image/svg+xml")
set(arrays "")
set(list "")
set(number 0)
set(names "")
if(FROM)
  file(GLOB names RELATIVE ${FROM} ${FROM}/*.html ${FROM}/*.js ${FROM}/*.css ${FROM}/*.svg)
  if(NOT "index.html" IN_LIST names)
    message(FATAL_ERROR "no index.html in ${FROM}")
  endif()
endif()
foreach(name ${names})
  string(REGEX REPLACE ".*\\." "" ending ${name})
  list(FIND types ${ending} at)
  math(EXPR at "${at} + 1")
  list(GET types ${at} type)
  file(READ ${FROM}/${name} bytes HEX)
  string(REGEX REPLACE "(..)" "0x\\1," bytes "${bytes}")
  string(REGEX REPLACE "(................................................................................)" "\\1\n" bytes "${bytes}")
  string(APPEND arrays "constexpr unsigned char file_${number}[] = {\n${bytes}0};\n")
  string(APPEND list "        {\"/${name}\", \"${type}\", text(file_${number})},\n")
  math(EXPR number "${number} + 1")
endforeach()
if(NOT names)
  set(arrays "constexpr unsigned char file_0[] = \"<!doctype html><title>rushlight desk</title><p>This program was built without the page of the desk: see docs/desk.md.</p>\";\n")
  set(list "        {\"/index.html\", \"text/html; charset=utf-8\", text(file_0)},\n")
endif()
file(WRITE ${OUT} "// Made by pack_page.cmake from the page as it was built.
#include \"desk/door/server.h\"

namespace rushlight::desk {

namespace {
${arrays}
/// Without the zero at its end.
template <std::size_t size>
std::string_view text(const unsigned char (&bytes)[size]) {
    return {reinterpret_cast<const char*>(bytes), size - 1};
}
}  // namespace

std::vector<PageFile> page_files() {
    return {
${list}    };
}

}  // namespace rushlight::desk
")
