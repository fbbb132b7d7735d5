#pragma once

#include <compare>
#include <functional>
#include <string>
#include <utility>

namespace rollwright {

/// A name that cannot be mistaken for the name of something else: `PartId` and `OrderId` do not
/// convert to each other. Ordered by text, so that every listing comes out the same way.
template <class Tag>
struct Id {
  std::string text;

  Id() = default;
  explicit Id(std::string text_) : text(std::move(text_)) {}

  [[nodiscard]] bool empty() const { return text.empty(); }
  friend auto operator<=>(const Id&, const Id&) = default;
};

}  // namespace rollwright

template <class Tag>
struct std::hash<rollwright::Id<Tag>> {
  std::size_t operator()(const rollwright::Id<Tag>& id) const noexcept {
    return std::hash<std::string>{}(id.text);
  }
};
