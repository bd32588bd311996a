/// Eigen includes it before the headers of two doubles a packet, which emscripten has; nothing in it is used.
#pragma once
