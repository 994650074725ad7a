// Files written whole or not at all, and a folder that goes away again.
#pragma once

#include <functional>
#include <ostream>
#include <string>

#include "measure/result.hpp"

namespace lampside::cli {

enum class IfThere { refuse, replace };

/// Writes beside `path` under another name, syncs, and renames: whoever looks sees the old file or the whole new one.
/// When `write` fails or Ctrl-C came, nothing is left behind. Errors: those of `write`, FILE_THERE, FILE_WRITE,
/// STOPPED.
Result<void> write_whole(const std::string& path, IfThere if_there,
                         const std::function<Result<void>(std::ostream&)>& write);

/// A new private folder under $TMPDIR or /tmp, removed with everything in it at the end.
class TemporaryFolder {
 public:
  /// Errors: FOLDER_FAILED.
  static Result<TemporaryFolder> make();
  ~TemporaryFolder();
  TemporaryFolder(TemporaryFolder&& other) noexcept;
  TemporaryFolder& operator=(TemporaryFolder&&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  explicit TemporaryFolder(std::string path) : path_{std::move(path)} {}
  std::string path_;
};

}  // namespace lampside::cli
