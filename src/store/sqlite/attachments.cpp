#include "store/attachments.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>

#include "picture/sha256.hpp"
#include "store/sqlite/database.hpp"
#include "store/sqlite/files.hpp"

namespace lampside::store {
namespace fs = std::filesystem;

Attachments Attachments::beside(const std::string& data) { return Attachments{data + "/attachments"}; }
Attachments Attachments::of_copy(const std::string& copy) { return Attachments{copy + ".attachments"}; }

Result<void> Attachments::keep(const std::string& sha256, std::string_view bytes) const {
  if (folder_.empty() || !picture::is_sha256(sha256))
    return problem("ATTACHMENTS_NONE", "pictures cannot be kept here", "serve a folder of your own with --data");
  const auto path = path_of(sha256);
  try {
    sqlite::make_folder(folder_);
    if (sqlite::exists(path)) return {};
    const sqlite::PartFile part{path};
    {
      std::ofstream file{part.path(), std::ios::binary};
      file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
      file.close();
      if (!file)
        return problem("STORE_FULL", "the picture cannot be written to its end", "free some space, then send it again");
    }
    sqlite::sync_file(part.path());
    sqlite::rename_without_overwriting(part.path(), path);  // taken: another hand kept the same picture
    sqlite::sync_folder(folder_);
  } catch (const sqlite::Failure& failure) {
    return tl::unexpected(failure.problem());
  }
  return {};
}

Result<std::string> Attachments::read(const std::string& sha256) const {
  std::ifstream file;
  if (!folder_.empty() && picture::is_sha256(sha256)) file.open(path_of(sha256), std::ios::binary);
  if (!file.is_open())
    return problem("ATTACHMENT_GONE", "this picture is not in the folder of pictures",
                   "put it back from a copy: the journal still knows it");
  std::string bytes{std::istreambuf_iterator<char>{file}, {}};
  if (picture::sha256(bytes) != sha256)
    return problem("STORE_DAMAGED", "the file of this picture has changed on the disk", "put it back from a copy");
  return bytes;
}

Result<std::size_t> Attachments::copy_to(const Attachments& other) const {
  std::size_t count = 0;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator{folder_, error}) {
    const auto name = entry.path().stem().string();
    if (entry.path().extension() != ".jpg" || !picture::is_sha256(name)) continue;
    const auto bytes = read(name);
    if (!bytes) return tl::unexpected(bytes.error());
    if (const auto kept = other.keep(name, *bytes); !kept) return tl::unexpected(kept.error());
    ++count;
  }
  return count;
}

}  // namespace lampside::store
