#pragma once

#include "base/result.hpp"
#include "book/database.hpp"

namespace rollwright::book {

/// Makes the tables of a new book when `create` is set, or checks that an existing one has the version this program
/// writes. Ordinary tables with plain column types, so that anybody may read them with SQL and the
/// same text serves other databases. Days and moments are ISO text; money is whole cents.
/// Errors: kDamaged when the file holds something else, or nothing and `create` is not set; kRefused
/// when another version of the program made it.
[[nodiscard]] Result<void> prepare_schema(Database& database, bool create);

}  // namespace rollwright::book
