#include "support.hpp"

#include <sqlite3.h>
#include <stdlib.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>

namespace lampside::store::test {

TempFolder::TempFolder(On on) {
  const bool in_memory = on == On::memory && access("/dev/shm", W_OK) == 0;
  const std::filesystem::path place = in_memory ? "/dev/shm" : std::filesystem::temp_directory_path();
  std::string pattern = place / "lampside-store-XXXXXX";
  if (mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = pattern;
}

TempFolder::~TempFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string uuid(unsigned number) {
  std::array<char, 40> text{};
  std::snprintf(text.data(), text.size(), "00000000-0000-4000-8000-%012x", number);
  return text.data();
}

namespace {
record::Entry entry(unsigned number, record::Body body) {
  using namespace std::chrono_literals;
  const Stamp at{Instant{std::chrono::sys_days{std::chrono::year{2026} / 3 / 1}} + number * 1min, Minutes{60}};
  return record::make_entry(uuid(number), "juniper-2026", at, at, "kitchen phone", "Red", std::move(body));
}
}  // namespace

record::Entry weight(unsigned number, double grams) { return entry(number, record::Weight{Grams{grams}, {}, {}}); }

std::vector<record::Entry> pair(unsigned number) {
  return {weight(2 * number),
          entry(2 * number + 1, record::Birth{1, record::Sex::female, Grams{410}, true, {}, {}, {}, {}, {}, {}, {}})};
}

record::Person person(unsigned number) {
  char name[40];
  std::snprintf(name, sizeof name, "Person-%06u-Quill", number);
  return {.family = "f" + std::to_string(number), .name = name, .note = std::string(6000, 'n') + name};
}

std::string bytes_of(const std::string& folder) {
  std::ostringstream out;
  for (const auto& file : std::filesystem::directory_iterator{folder})
    out << std::ifstream{file.path(), std::ios::binary}.rdbuf();
  return out.str();
}

std::vector<std::string> lines_of(const std::vector<record::Entry>& entries) {
  std::vector<std::string> lines;
  for (const auto& e : entries) lines.push_back(record::encode_line(e));
  return lines;
}

std::unique_ptr<Journal> opened(const std::string& folder) {
  auto journal = open_sqlite(folder);
  if (!journal) throw std::runtime_error(to_text(journal.error()));
  return std::move(*journal);
}

RawDatabase::RawDatabase(const std::string& path) {
  if (sqlite3_open(path.c_str(), &connection_) != SQLITE_OK) throw std::runtime_error(sqlite3_errmsg(connection_));
}

RawDatabase::~RawDatabase() { sqlite3_close(connection_); }

std::string RawDatabase::run(const std::string& sql) {
  char* message = nullptr;
  const int code = sqlite3_exec(connection_, sql.c_str(), nullptr, nullptr, &message);
  std::string text = code == SQLITE_OK ? "" : message != nullptr ? message : sqlite3_errstr(code);
  sqlite3_free(message);
  return text;
}

std::string RawDatabase::rows(const std::string& sql) {
  std::string text;
  const auto add = [](void* to, int columns, char** values, char**) {
    auto& out = *static_cast<std::string*>(to);
    for (int i = 0; i < columns; ++i)
      out += (i > 0 ? "|" : "") + std::string(values[i] != nullptr ? values[i] : "NULL");
    out += "\n";
    return 0;
  };
  if (sqlite3_exec(connection_, sql.c_str(), add, &text, nullptr) != SQLITE_OK) {
    throw std::runtime_error(sqlite3_errmsg(connection_));
  }
  return text;
}

std::string fault_of_pairs(const std::string& folder, const std::vector<unsigned>& acknowledged) {
  // Lampside first, as after a crash: opening must bring the file back by itself.
  auto journal = open_sqlite(folder);
  if (!journal) return "cannot be opened: " + to_text(journal.error());
  const auto entries = (*journal)->read();
  if (!entries) return "cannot be read: " + to_text(entries.error());
  if (const auto count = (*journal)->count(); !count || *count != entries->size()) return "miscounted";
  const std::string integrity = RawDatabase{folder + "/lampside.db"}.rows("PRAGMA integrity_check");
  if (integrity != "ok\n") return "damaged: " + integrity;
  std::map<std::string, int> times;
  for (const auto& e : *entries) ++times[e.id];
  std::set<unsigned> pairs(acknowledged.begin(), acknowledged.end());
  for (const auto& e : *entries) pairs.insert(static_cast<unsigned>(std::stoul(e.id.substr(24), nullptr, 16)) / 2);
  for (const unsigned number : pairs) {
    const int first = times[uuid(2 * number)], second = times[uuid(2 * number + 1)];
    if (first + second == 0) return "lost acknowledged pair " + std::to_string(number);
    if (first != 1 || second != 1) return "torn pair " + std::to_string(number);
  }
  return "";
}

}  // namespace lampside::store::test
