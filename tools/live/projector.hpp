/// The page of a live lesson, served to browsers on this machine, or beyond it where that was asked
/// for.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "live_lesson.hpp"
#include "live_person.hpp"
#include "live_view.hpp"
#include "pulsewright/report.hpp"

namespace pulsewright::program {

struct ProjectorSetup {
  int port = 0;
  std::string address = "127.0.0.1";  ///< to listen at
  /// `address` is none of this machine alone: whoever asks must know the token.
  bool beyond_loopback = false;
  Language language = Language::english;
  std::vector<std::string> left_out;  ///< codes that are not shown
};

/// What the page is told, as JSON. Codes and shares of the reserve, nothing else of a person; those
/// of `left_out` are not in it.
[[nodiscard]] std::string projector_state(const std::vector<LivePerson>& people, const LiveMoment& moment,
                                          const LiveLesson* lesson, const std::vector<std::string>& left_out);

/// A server in threads of its own. Only `GET` of the page and its events is answered; requests are
/// bounded in size, in number a second, and in how long they may take, streams in number. Whatever
/// a client does, the run goes on.
class Projector {
 public:
  /// Throws Error{usage} where the address cannot be listened at.
  explicit Projector(const ProjectorSetup& setup);
  ~Projector();
  Projector(const Projector&) = delete;
  Projector& operator=(const Projector&) = delete;

  /// The state to be sent to everybody who looks.
  void show(const std::string& state);
  /// The address for a browser, with the token where one is needed.
  [[nodiscard]] const std::string& url() const;

 private:
  struct Server;
  std::unique_ptr<Server> server_;
};

}  // namespace pulsewright::program
