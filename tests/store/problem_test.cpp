// What SQLite's codes become for a keeper: the advice must fit the trouble.
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <cerrno>

#include "store/sqlite/database.hpp"

namespace lampside::store::sqlite {
namespace {

TEST(Problems, EachTroubleHasItsCode) {
  const struct {
    int code, system_error;
    const char* wanted;
  } rows[]{
      {SQLITE_FULL, 0, "STORE_FULL"},
      {SQLITE_IOERR_FSYNC, ENOSPC, "STORE_FULL"},  // some file systems find out only when they sync
      {SQLITE_IOERR_SHMSIZE, ENOSPC, "STORE_FULL"},
      {SQLITE_IOERR_WRITE, EDQUOT, "STORE_FULL"},
      {SQLITE_CANTOPEN, ENOSPC, "STORE_FULL"},
      {SQLITE_IOERR_WRITE, EIO, "STORE_IO"},
      {SQLITE_BUSY, ENOSPC, "STORE_BUSY"},  // an old error of the system's says nothing about a lock
      {SQLITE_BUSY_RECOVERY, 0, "STORE_BUSY"},
      {SQLITE_CORRUPT_INDEX, 0, "STORE_DAMAGED"},
      {SQLITE_NOTADB, 0, "STORE_DAMAGED"},
      {SQLITE_READONLY_DIRECTORY, 0, "STORE_IO"},
      {SQLITE_NOMEM, 0, "STORE_IO"},
  };
  for (const auto& row : rows) {
    const Problem problem = problem_of(row.code, row.system_error, "because");
    EXPECT_EQ(problem.code, row.wanted) << row.code << ", system error " << row.system_error;
    EXPECT_FALSE(problem.what.empty() || problem.todo.empty()) << row.code;
  }
}

}  // namespace
}  // namespace lampside::store::sqlite
