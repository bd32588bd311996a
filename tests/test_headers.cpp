// Nothing but the large headers that all test programs share, precompiled: see tests/CMakeLists.txt.
