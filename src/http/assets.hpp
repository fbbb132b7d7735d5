#pragma once

#include <span>
#include <string_view>

namespace rollwright::http {

/// A file of the pages, embedded in the program when it was built.
struct Asset {
  std::string_view path;  // "/assets/index-3f2a.js"
  std::string_view type;
  std::string_view etag;  // quoted; of the content
  std::string_view plain;
  std::string_view gzip;  // empty when compressing did not help
  bool for_ever = false;  // its name holds a hash of its content
};

/// All of them; made by web/tools/embed.mjs from web/dist.
[[nodiscard]] std::span<const Asset> assets();

/// The edition of the pages: the path of their script, whose name holds a hash of what is in it.
[[nodiscard]] std::string_view edition();

/// The asset at the path. Paths of pages, which the browser's own history makes ("/orders/2041"),
/// give the start page; a missing file under /assets gives null.
[[nodiscard]] const Asset* asset_for(std::string_view path);

}  // namespace rollwright::http
