#pragma once

#include "base/result.hpp"
#include "book/database.hpp"

namespace rollwright::book {

/// Makes the tables of a new book, or checks that an existing one has the version this program
/// writes. Ordinary tables with plain column types, so that anybody may read them with SQL and the
/// same text serves other databases. Days and moments are ISO text; money is whole cents.
/// Errors: kDamaged when the file holds something else; kRefused when a newer program made it.
[[nodiscard]] Result<void> prepare_schema(Database& database);

}  // namespace rollwright::book
