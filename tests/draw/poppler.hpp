// What another program (poppler) sees in our PDF.
#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <regex>
#include <sstream>
#include <string>

namespace lampside::draw::test {

inline bool installed(const std::string& program) {
  return std::system(("command -v " + program + " >/dev/null 2>&1").c_str()) == 0;
}
#define SKIP_WITHOUT(program)                      \
  if (!::lampside::draw::test::installed(program)) \
  GTEST_SKIP() << program << " is not installed (Debian package poppler-utils)"

/// Output of `command` with the PDF as its standard input.
inline std::string run_on(const std::string& pdf, const std::string& command) {
  char path[] = "/tmp/lampside-pdf-XXXXXX";
  const int file = mkstemp(path);
  if (file < 0) return {};
  close(file);
  std::ofstream{path, std::ios::binary} << pdf;
  std::string out;
  if (FILE* pipe = popen((command + " < " + path).c_str(), "r")) {
    char buffer[4096];
    while (const std::size_t n = fread(buffer, 1, sizeof buffer, pipe)) out.append(buffer, n);
    pclose(pipe);
  }
  unlink(path);
  return out;
}

/// Names of the fonts in pdffonts' table that are not both embedded and a subset.
inline std::string fonts_not_embedded(const std::string& table) {
  static const std::regex kEmbeddedSubset{R"( yes +yes +(yes|no) +\d+ +\d+$)"};  // columns: emb sub uni object ID
  std::istringstream lines{table};
  std::string line, bad;
  for (int n = 0; std::getline(lines, line); ++n)
    if (n >= 2 && !std::regex_search(line, kEmbeddedSubset)) bad += line.substr(0, line.find(' '));
  return bad;
}

}  // namespace lampside::draw::test
