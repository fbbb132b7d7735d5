#include "http/assets.hpp"

namespace rollwright::http {

const Asset* asset_for(std::string_view path) {
  const Asset* start = nullptr;
  for (const Asset& asset : assets()) {
    if (asset.path == path) return &asset;
    if (asset.path == "/index.html") start = &asset;
  }
  const bool is_file = path.starts_with("/assets/") || path.find('.') != std::string_view::npos;
  return is_file ? nullptr : start;
}

}  // namespace rollwright::http
