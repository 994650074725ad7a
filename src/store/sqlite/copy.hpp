// A sound copy of a database file under another name, made while the original is in use.
#pragma once

#include <string>

namespace lampside::store::sqlite {

/// Copies the journal `from` to the new file `to`: checked, complete in one file, private to this user, on the disk.
/// Nothing is left under `to` unless all of it is good.
/// Throws Failure: STORE_EXISTS, STORE_DAMAGED, STORE_NEWER, STORE_OPEN, STORE_FULL, STORE_IO, STORE_BUSY.
void copy_journal(const std::string& from, const std::string& to);

}  // namespace lampside::store::sqlite
