#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/verbs.hpp"
#include "shop/photo_desk.hpp"

namespace rollwright::cli {
namespace {

/// What these verbs may ask for.
struct PhotoOptions {
  std::string of;    // order or purchase line
  std::string file;
  shop::BikePhotoGiven bike;
  shop::GoodsPhotoGiven goods;
  std::string hash;
  bool is_small = false;
};

/// The picture in the file that was named. Errors: kTooLarge and those of read_file.
Result<std::string> picture_in(const PhotoOptions& options) {
  return read_file(options.file, book::kMostPictureBytes);
}

void add_photograph(Verbs& verbs, const std::shared_ptr<PhotoOptions>& options) {
  CLI::App* verb = verbs.add(
      "photograph", "put a photograph into a bike's record; without a file, those that are there",
      [options](const Common& common, shop::Shop& shop) {
        if (options->file.empty()) return answer(common, shop.photos().of_bike(options->of));
        Result<std::string> bytes = picture_in(*options);
        if (!bytes) return fail(common, bytes.error());
        options->bike.who = common.who;
        return answer(common, shop.photos().take_of_bike(options->of, std::move(*bytes),
                                                         options->bike));
      });
  verb->add_option("order", options->of, "order")->required();
  verb->add_option("file", options->file, "JPEG or PNG, at most 8 MiB");
  verb->add_option("--about", options->bike.about,
                   "boxes, maker, an operation or a check line; left out: the bike");
  verb->add_option("--note", options->bike.note, "what is seen");
}

void add_photograph_line(Verbs& verbs, const std::shared_ptr<PhotoOptions>& options) {
  CLI::App* verb = verbs.add(
      "photograph-line", "put a photograph to a purchase line, or to a claim of it",
      [options](const Common& common, shop::Shop& shop) {
        Result<std::string> bytes = picture_in(*options);
        if (!bytes) return fail(common, bytes.error());
        return answer(common, shop.photos().take_of_goods(options->of, std::move(*bytes),
                                                          options->goods, common.who));
      });
  verb->add_option("line", options->of, "number of the purchase line, as in P-3101")->required();
  verb->add_option("file", options->file, "JPEG or PNG, at most 8 MiB")->required();
  verb->add_option("--claim", options->goods.claim, "number of the claim; left out: the delivery");
  verb->add_option("--note", options->goods.note, "what is seen");
}

int write_small(const Common& common, shop::Shop& shop, const PhotoOptions& options) {
  Result<pictures::SmallCopy> copy = shop.photos().small_copy(options.hash);
  if (!copy) return fail(common, copy.error());
  return write_paper(common, std::move(copy->jpeg), options.file);
}

void add_picture(Verbs& verbs, const std::shared_ptr<PhotoOptions>& options) {
  CLI::App* verb = verbs.add(
      "picture", "write a picture of the book to a file, as it was given",
      [options](const Common& common, shop::Shop& shop) {
        if (options->is_small) return write_small(common, shop, *options);
        Result<book::Picture> picture = shop.photos().picture(options->hash);
        if (!picture) return fail(common, picture.error());
        return write_paper(common, std::move(picture->bytes), options->file);
      });
  verb->add_option("hash", options->hash, "its hash, as in a bike's history")->required();
  verb->add_flag("--small", options->is_small, "a small copy instead, upright, as a JPEG");
  verb->add_option("--to", options->file, "file to write")->required();
}

}  // namespace

std::string as_text(const shop::PhotosView& view) {
  if (view.photos.empty()) return "No photograph.\n";
  std::string text;
  for (const shop::PhotoView& photo : view.photos) {
    text += fmt::format("{}  {}  {}{}{}\n", photo.picture, photo.at, photo.who,
                        photo.about.empty() ? std::string() : ", " + photo.about,
                        photo.note.empty() ? std::string() : ": " + photo.note);
  }
  return text;
}

void add_photo_verbs(Verbs& verbs) {
  const auto options = std::make_shared<PhotoOptions>();
  add_photograph(verbs, options);
  add_photograph_line(verbs, options);
  add_picture(verbs, options);
}

}  // namespace rollwright::cli
