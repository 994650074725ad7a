// The journal's layouts in the file, the guards that keep it append-only, and the way from each older layout.
#pragma once

#include "store/sqlite/database.hpp"

namespace lampside::store::sqlite {

/// Written into the file's header (offset 68), so that another program's database is never taken for a journal: "Lamp".
inline constexpr std::int64_t kApplicationId = 0x4C616D70;
/// The present layout; in the header too (PRAGMA user_version).
inline constexpr std::int64_t kLayoutVersion = 3;

/// The layout of this file: 0 for an empty one. Only reads.
/// Throws Failure: STORE_OPEN (another program's file), STORE_NEWER, STORE_DAMAGED.
std::int64_t layout_version(Database& database);

/// Throws Failure STORE_DAMAGED unless SQLite finds the file sound. Only reads.
void check_sound(Database& database);

/// Makes the layout in an empty file, or upgrades an older one, in one transaction; puts the guards right if
/// somebody meddled with them. Does not write when there is nothing to do. Throws Failure: as above, and whatever
/// writing may meet.
void bring_up_to_date(Database& database);

}  // namespace lampside::store::sqlite
