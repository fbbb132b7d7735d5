#pragma once

#include <string>
#include <vector>

/// Photographs as they are shown and as they are given.
namespace rollwright::shop {

struct PhotoView {
  std::string picture;  // its hash, by which it is asked for
  std::string at;       // UTC as ISO text
  std::string who;
  std::string about;    // of a bike: boxes, maker, an operation, a check line, or empty: the bike
  std::string note;
};

struct PhotosView {
  std::vector<PhotoView> photos;  // oldest first
};

/// What goes with the bytes of a picture of a bike.
struct BikePhotoGiven {
  std::string who;
  std::string about;
  std::string note;
  std::string at;   // ISO moment; empty: now
  std::string key;  // of the sender's own; sent twice, written once
};

/// What goes with the bytes of a picture of a delivery. Sent twice, it is written once: it is known
/// by its picture.
struct GoodsPhotoGiven {
  int claim = 0;    // of the line, from 1; 0: the delivery itself
  std::string note;
  std::string at;   // ISO moment; empty: now
};

}  // namespace rollwright::shop
