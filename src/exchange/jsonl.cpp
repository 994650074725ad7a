#include "exchange/jsonl.hpp"

#include <utility>

namespace lampside::exchange {

Result<TakenIn> read_jsonl(std::istream& in, Progress progress, Limits limits) {
  LineReader lines{in, limits, std::move(progress)};
  TakenIn taken;
  std::string line;
  for (;;) {
    const auto more = lines.next(line);
    if (!more) return tl::unexpected(more.error());
    if (!*more) break;
    if (line.find_first_not_of(" \t") == std::string::npos) continue;
    auto entry = record::decode_line(line);
    if (!entry) return tl::unexpected(at_line(lines.line(), entry.error()));
    taken.entries.push_back(std::move(*entry));
    taken.lines.push_back(lines.line());
  }
  if (taken.entries.empty())
    return problem("FILE_EMPTY", "the file holds no entry",
                   "a journal has one JSON object a line; see docs/journal.md");
  return taken;
}

Result<void> write_jsonl(std::ostream& out, std::span<const record::Entry> entries) {
  for (const auto& e : entries) out << record::encode_line(e) << '\n';
  out.flush();
  if (!out) return problem("FILE_WRITE", "the file cannot be written to its end", "is the disk full?");
  return {};
}

}  // namespace lampside::exchange
