/// The page that shows a live lesson on a wall.
#pragma once

#include <string>

#include "pulsewright/report.hpp"

namespace pulsewright {

struct ProjectorPage {
  std::string
      /// One document with styles and script inside; it asks for `course` beside it and for nothing
      /// else.
      html;
  /// The content policy to send with it: no other script, nothing from elsewhere.
  std::string policy;
};

/// Everybody on one axis of per cent of their own heart-rate reserve: a marker where the person is,
/// small ones where the last quarter of a minute was, a band for the own target. Who cannot be
/// measured now stands beside the axis with the reason. People stand in the order of the input,
/// never by rate. The page takes server-sent events with the state as JSON.
[[nodiscard]] ProjectorPage projector_page(Language language = Language::english);

}  // namespace pulsewright
