#include "book/picture.hpp"

#include <array>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <sodium.h>

#include "book/cells.hpp"

// Photographs: the pictures themselves, and those of deliveries.
namespace rollwright::book {
namespace {

using namespace std::string_view_literals;

constexpr std::string_view kSubject = "picture ";
// The marks with which files of these kinds begin. Source: [picture-marks] in docs/sources.md.
constexpr std::string_view kJpeg = "\xFF\xD8\xFF"sv;
constexpr std::string_view kPng = "\x89PNG\r\n\x1A\n"sv;

std::string hash_of_bytes(std::string_view bytes) {
  std::array<unsigned char, crypto_generichash_BYTES> digest{};
  crypto_generichash(digest.data(), digest.size(),
                     reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(), nullptr,
                     0);
  std::array<char, crypto_generichash_BYTES * 2 + 1> hex{};
  sodium_bin2hex(hex.data(), hex.size(), digest.data(), digest.size());
  return hex.data();
}

std::string type_of_bytes(std::string_view bytes) {
  if (bytes.starts_with(kJpeg)) return "image/jpeg";
  if (bytes.starts_with(kPng)) return "image/png";
  return {};
}

std::unexpected<Error> no_picture(const std::string& hash) {
  return refuse(Code::kNotFound, "the book has no such picture",
                {.field = "picture", .value = hash});
}

}  // namespace

Result<Picture> picture_of(std::string bytes) {
  if (bytes.size() > kMostPictureBytes) {
    return refuse(Code::kTooLarge,
                  fmt::format("a photograph may have at most {} MiB; set the camera to a smaller "
                              "size",
                              kMostPictureBytes >> 20),
                  {.field = "picture"});
  }
  std::string type = type_of_bytes(bytes);
  if (type.empty()) {
    return refuse(Code::kBadInput,
                  "this is neither a JPEG nor a PNG: set the camera to one of these",
                  {.field = "picture"});
  }
  std::string hash = hash_of_bytes(bytes);
  return Picture{.hash = std::move(hash), .type = std::move(type), .bytes = std::move(bytes)};
}

Record record_of(const Picture& picture) {
  const nlohmann::ordered_json json = {{"type", picture.type}, {"bytes", picture.bytes.size()}};
  return {std::string(kSubject) + picture.hash, json.dump()};
}

Record record_of(const GoodsPhoto& photo) {
  const nlohmann::ordered_json json = {
      {"at", iso(photo.at)}, {"who", photo.who}, {"note", photo.note}};
  return {fmt::format("photograph {} {} {}", photo.line, photo.claim, photo.picture),
          json.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace)};
}

Result<void> put(Database& database, const Picture& picture) {
  return done(database.run("insert into picture (hash, type, bytes) values (?, ?, ?)",
                           {picture.hash, picture.type, Bytes{picture.bytes}}));
}

Result<void> put(Database& database, const GoodsPhoto& photo) {
  Result<void> out = done(
      database.run("delete from goods_photo where purchase = ? and claim = ? and picture = ?",
                   {photo.line, std::int64_t{photo.claim}, photo.picture}));
  if (!out) return out;
  return done(database.run("insert into goods_photo (purchase, claim, picture, at, who, note) "
                           "values (?, ?, ?, ?, ?, ?)",
                           {photo.line, std::int64_t{photo.claim}, photo.picture, iso(photo.at),
                            photo.who, photo.note}));
}

Result<Picture> read_picture(Database& database, const std::string& hash) {
  Result<Rows> rows = database.run("select type, bytes from picture where hash = ?", {hash});
  if (!rows) return std::unexpected(rows.error());
  if (rows->empty()) return no_picture(hash);
  return Picture{.hash = hash, .type = text(rows->front()[0]), .bytes = text(rows->front()[1])};
}

Result<void> has_picture(Database& database, const std::string& hash) {
  const Result<Rows> rows = database.run("select 1 from picture where hash = ?", {hash});
  if (!rows) return std::unexpected(rows.error());
  if (rows->empty()) return no_picture(hash);
  return {};
}

Result<int> count_pictures(Database& database) {
  const Result<Rows> rows = database.run("select count(*) from picture", {});
  if (!rows) return std::unexpected(rows.error());
  return number(rows->front()[0]);
}

Result<std::vector<GoodsPhoto>> read_goods_photos(Database& database, const std::string& line) {
  return read_each<GoodsPhoto>(
      database,
      "select purchase, claim, picture, at, who, note from goods_photo "
      "where purchase = ? or ? = '' order by purchase, claim, at, picture",
      [](const Row& row) {
        return GoodsPhoto{.line = text(row[0]), .claim = number(row[1]), .picture = text(row[2]),
                          .at = parse_instant(text(row[3])).value_or(Instant{}),
                          .who = text(row[4]), .note = text(row[5])};
      },
      {line, line});
}

bool is_of_picture(std::string_view subject) { return subject.starts_with(kSubject); }

Result<std::optional<std::string>> altered_picture(Database& database, const std::string& subject,
                                                   const std::string& said) {
  const std::string hash = subject.substr(kSubject.size());
  const Result<Picture> held = read_picture(database, hash);
  if (!held && held.error().code == Code::kNotFound) {
    return subject + " is in the journal but gone from the tables";
  }
  if (!held) return std::unexpected(held.error());
  const Result<Picture> again = picture_of(held->bytes);
  const bool same = again && again->hash == hash && again->type == held->type &&
                    record_of(*again).text == said;
  if (same) return std::nullopt;
  return subject + " in the tables is not the one that was written down";
}

}  // namespace rollwright::book
