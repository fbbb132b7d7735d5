#include "pictures/camera_turn.hpp"

#include <cstdint>
#include <optional>

namespace rollwright::pictures {
namespace {

using namespace std::string_view_literals;

// Of the format: a head, a byte order, and a list of entries of 12 bytes each.
constexpr std::string_view kHead = "Exif\0\0"sv;
constexpr std::uint32_t kTurn = 0x0112;
constexpr std::uint32_t kShort = 3;
constexpr std::size_t kEntry = 12;

/// Numbers as the block writes them. Nothing lies beyond its end.
class Block {
 public:
  Block(std::string_view bytes, bool is_little) : bytes_(bytes), is_little_(is_little) {}

  [[nodiscard]] std::optional<std::uint32_t> number(std::size_t at, std::size_t length) const {
    if (at > bytes_.size() || bytes_.size() - at < length) return std::nullopt;
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < length; ++i) {
      const std::size_t next = is_little_ ? at + length - 1 - i : at + i;
      number = number << 8 | static_cast<unsigned char>(bytes_[next]);
    }
    return number;
  }

 private:
  std::string_view bytes_;
  bool is_little_;
};

std::optional<std::uint32_t> turn_in(const Block& block) {
  const auto list = block.number(4, 4);
  const auto count = list ? block.number(*list, 2) : std::nullopt;
  if (!count) return std::nullopt;
  for (std::size_t i = 0; i < *count; ++i) {
    const std::size_t entry = *list + 2 + i * kEntry;
    const auto tag = block.number(entry, 2);
    if (!tag) return std::nullopt;
    if (*tag != kTurn) continue;
    return block.number(entry + 2, 2) == kShort ? block.number(entry + 8, 2) : std::nullopt;
  }
  return std::nullopt;
}

}  // namespace

int camera_turn(std::string_view block) {
  if (!block.starts_with(kHead)) return 1;
  block.remove_prefix(kHead.size());
  const bool is_little = block.starts_with("II*\0"sv);
  if (!is_little && !block.starts_with("MM\0*"sv)) return 1;
  const auto turn = turn_in(Block(block, is_little));
  return turn && 1 <= *turn && *turn <= 8 ? static_cast<int>(*turn) : 1;
}

}  // namespace rollwright::pictures
