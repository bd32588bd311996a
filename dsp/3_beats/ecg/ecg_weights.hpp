/// What each feature of a candidate weighs for its being a beat. Written by
/// tests/accuracy/fit_ecg_score.py: no number here is set by hand.
///
/// Logistic regressions on the development records of the MIT-BIH Arrhythmia Database (26 records, first
/// signal), `shape_weights` and `noise_weights` also with electrode motion, muscle noise and baseline
/// wander added; `lead_weights` on both signals. Templates and the first guess changed a little after
/// these were fitted, and which candidates are in strong noise, and what is measured of them, depends
/// on the weights themselves: fitted again, they come out a little different.
#pragma once

#include <array>
#include <string_view>

namespace pulsewright::beats_stage {

struct FeatureWeight {
  std::string_view feature;
  double weight;
};

inline constexpr std::array<FeatureWeight, 11> first_weights{{
    {"strength to level", 3.126},
    {"breadth to level", -1.468},
    {"likeness", 1.055},
    {"background to strength", -1.994},
    {"stronger one before", -3.982},
    {"stronger one after", -12.459},
    {"weaker one before", -0.806},
    {"weaker one after", -0.067},
    {"strength below level squared", -0.008},
    {"likeness to the fourth", 3.581},
    {"constant", -5.340},
}};

inline constexpr std::array<FeatureWeight, 14> context_weights{{
    {"strength to level", 2.434},
    {"breadth to level", 0.004},
    {"likeness", 1.454},
    {"background to strength", -0.324},
    {"stronger one before", -2.118},
    {"stronger one after", -7.889},
    {"weaker one before", -0.781},
    {"weaker one after", -0.157},
    {"strength below level squared", 0.239},
    {"likeness to the fourth", 2.026},
    {"over the usual after", 2.452},
    {"over the usual before", 1.466},
    {"the smaller of the last two", -0.924},
    {"constant", -6.479},
}};

inline constexpr std::array<FeatureWeight, 44> shape_weights{{
    {"strength to level", 1.706},
    {"breadth to level", -0.560},
    {"likeness", 0.321},
    {"background to strength", -0.192},
    {"stronger one before", -2.190},
    {"stronger one after", -2.567},
    {"weaker one before", -0.316},
    {"weaker one after", 0.247},
    {"strength below level squared", -0.163},
    {"likeness to the fourth", -0.193},
    {"over the usual after", 2.881},
    {"over the usual before", 1.642},
    {"the smaller of the last two", -1.298},
    {"near shape", 0.092},
    {"near shape to the fourth", 2.018},
    {"whole shape", 0.447},
    {"whole shape to the fourth", 0.928},
    {"whole energy", 3.183},
    {"whole energy to the fourth", 3.178},
    {"step", -3.238},
    {"step squared", -0.242},
    {"noise level x strength to level", -1.163},
    {"noise level x breadth to level", -0.642},
    {"noise level x likeness", 2.353},
    {"noise level x background to strength", -0.191},
    {"noise level x stronger one before", -0.069},
    {"noise level x stronger one after", 1.556},
    {"noise level x weaker one before", 0.242},
    {"noise level x weaker one after", -0.199},
    {"noise level x strength below level squared", -1.996},
    {"noise level x likeness to the fourth", -1.929},
    {"noise level x over the usual after", -0.583},
    {"noise level x over the usual before", 0.086},
    {"noise level x the smaller of the last two", -1.350},
    {"noise level x near shape", 0.962},
    {"noise level x near shape to the fourth", -1.693},
    {"noise level x whole shape", 0.115},
    {"noise level x whole shape to the fourth", -2.443},
    {"noise level x whole energy", 0.383},
    {"noise level x whole energy to the fourth", 0.396},
    {"noise level x step", 1.696},
    {"noise level x step squared", 1.768},
    {"noise level", 1.462},
    {"constant", -9.041},
}};

inline constexpr std::array<FeatureWeight, 60> noise_weights{{
    {"strength to level", 3.627},
    {"breadth to level", -0.570},
    {"likeness", -1.161},
    {"background to strength", 0.058},
    {"stronger one before", -1.169},
    {"stronger one after", 0.048},
    {"weaker one before", 0.085},
    {"weaker one after", -0.127},
    {"strength below level squared", 1.129},
    {"likeness to the fourth", 2.025},
    {"over the usual after", 2.921},
    {"over the usual before", 2.057},
    {"the smaller of the last two", -2.423},
    {"near shape", -0.198},
    {"near shape to the fourth", 2.870},
    {"whole shape", 0.148},
    {"whole shape to the fourth", -0.335},
    {"whole energy", 3.566},
    {"whole energy to the fourth", 4.591},
    {"step", -2.106},
    {"step squared", 1.428},
    {"noise level x strength to level", -3.433},
    {"noise level x breadth to level", 0.721},
    {"noise level x likeness", 2.492},
    {"noise level x background to strength", 0.271},
    {"noise level x stronger one before", -0.187},
    {"noise level x stronger one after", 0.145},
    {"noise level x weaker one before", -0.112},
    {"noise level x weaker one after", 0.184},
    {"noise level x strength below level squared", -1.803},
    {"noise level x likeness to the fourth", -2.900},
    {"noise level x over the usual after", -1.483},
    {"noise level x over the usual before", -0.630},
    {"noise level x the smaller of the last two", 0.335},
    {"noise level x near shape", 1.774},
    {"noise level x near shape to the fourth", -2.683},
    {"noise level x whole shape", 1.020},
    {"noise level x whole shape to the fourth", -1.939},
    {"noise level x whole energy", -1.272},
    {"noise level x whole energy to the fourth", -1.928},
    {"noise level x step", 0.338},
    {"noise level x step squared", 0.393},
    {"noise level", 0.244},
    {"match", -1.732},
    {"match squared", 1.807},
    {"match alone", -1.411},
    {"match alone to the fourth", 4.578},
    {"match smaller than usual", 0.146},
    {"match larger than usual", -3.485},
    {"match beside", 0.311},
    {"match beside over match", -1.222},
    {"noise level x match", 1.961},
    {"noise level x match squared", -1.609},
    {"noise level x match alone", -1.226},
    {"noise level x match alone to the fourth", 0.043},
    {"noise level x match smaller than usual", 0.989},
    {"noise level x match larger than usual", -0.511},
    {"noise level x match beside", -0.226},
    {"noise level x match beside over match", 0.317},
    {"constant", -4.073},
}};

inline constexpr std::array<FeatureWeight, 5> lead_weights{{
    {"for a beat", 0.509},
    {"for as far as trusted", 0.553},
    {"against", 0.561},
    {"against as far as trusted", 0.974},
    {"constant", 2.625},
}};

}  // namespace pulsewright::beats_stage
