from os import PathLike
from typing import Any, Optional, Sequence

import numpy as np
import numpy.typing as npt

Samples = npt.ArrayLike
Path = str | PathLike[str]
Spans = list[tuple[float, float]]
Warnings = list[tuple[str, str]]

__version__: str

class Error(Exception): ...
class UsageError(Error, ValueError): ...
class UnreadableError(Error, OSError): ...
class UnwritableError(Error, OSError): ...
class ContractError(Error, ValueError): ...

class Channel:
    def __init__(
        self, name: str, samples: Samples, rate_hz: float, kind: str = "other", unit: str = "", start_s: float = 0.0
    ) -> None: ...
    name: str
    unit: str
    kind: str
    rate_hz: float
    start_s: float
    samples: npt.NDArray[np.float32]
    times: npt.NDArray[np.float64]
    def __len__(self) -> int: ...

class Recording:
    def __init__(self, channels: Sequence[Channel], name: str = "arrays") -> None: ...
    channels: list[Channel]
    duration_s: float
    clock_start: Optional[str]
    warnings: Warnings
    def channel(self, selector: str) -> Channel: ...
    def to_pandas(self) -> Any: ...
    def to_json(self) -> str: ...

def read_recording(
    path: Path,
    *,
    rate_hz: Optional[float] = None,
    start_s: Optional[float] = None,
    end_s: Optional[float] = None,
) -> Recording: ...

class Signal:
    channel: str
    kind: str
    rate_hz: float
    start_s: float
    values: npt.NDArray[np.float32]
    times: npt.NDArray[np.float64]
    gaps: Spans
    quality: npt.NDArray[np.float64]
    quality_faults: list[str]
    mains_hz: Optional[float]
    warnings: Warnings
    def __len__(self) -> int: ...

class CausalFilter:
    def process(self, samples: Samples) -> npt.NDArray[np.float32]: ...
    def reset(self) -> None: ...

def condition(channel: Channel) -> Signal: ...
def guess_kind(channel: Channel) -> str: ...
def causal_filter(
    rate_hz: float, *, low_hz: Optional[float] = None, high_hz: Optional[float] = None, order: int = 2
) -> CausalFilter: ...
def filter_zero_phase(
    samples: Samples,
    rate_hz: float,
    *,
    low_hz: Optional[float] = None,
    high_hz: Optional[float] = None,
    order: int = 2,
) -> npt.NDArray[np.float32]: ...
def resample(samples: Samples, up: int, down: int) -> npt.NDArray[np.float32]: ...

class BeatTrain:
    def __init__(self, times_s: Sequence[float], duration_s: Optional[float] = None) -> None: ...
    times: npt.NDArray[np.float64]
    confidence: npt.NDArray[np.float64]
    feet: npt.NDArray[np.float64]
    unreadable: Spans
    readable_percent: Optional[float]
    duration_s: float
    source: str
    warnings: Warnings
    def to_pandas(self, all: bool = False) -> Any: ...
    def to_json(self, all: bool = False) -> str: ...
    def __len__(self) -> int: ...

class BeatStream:
    def __init__(self, kind: str, rate_hz: float) -> None: ...
    look_ahead_s: float
    def push(self, samples: Samples) -> Any: ...
    def finish(self) -> Any: ...

class DetectionTrace:
    start_s: float
    rate_hz: float
    function: npt.NDArray[np.float32]
    def to_pandas(self) -> Any: ...

class RateTrack:
    delay_s: float
    motion_used: bool
    warnings: Warnings
    def to_pandas(self) -> Any: ...
    def __len__(self) -> int: ...

def find_beats(
    recording: Recording, *, kind: str = "auto", channels: Sequence[str] = [], streaming: bool = False
) -> BeatTrain: ...
def read_beats(path: Path, *, rate_hz: Optional[float] = None) -> BeatTrain: ...
def read_flutter(path: Path, *, rate_hz: Optional[float] = None) -> Spans: ...
def detection_trace(
    recording: Recording, start_s: float, end_s: float, *, kind: str = "auto", channels: Sequence[str] = []
) -> DetectionTrace: ...
def track_rate(
    recording: Recording,
    *,
    channels: Sequence[str] = [],
    motion: Optional[Sequence[str]] = None,
    streaming: bool = False,
) -> RateTrack: ...

class Intervals:
    corrected_ms: npt.NDArray[np.float64]
    corrected_times: npt.NDArray[np.float64]
    flagged_percent: Optional[float]
    duration_s: float
    warnings: Warnings
    def to_pandas(self) -> Any: ...
    def to_json(self) -> str: ...
    def __len__(self) -> int: ...

def clean(beats: BeatTrain, *, correction: str = "repair") -> Intervals: ...
def read_intervals(path: Path, *, unit: str = "ms") -> BeatTrain: ...

class RateSeries:
    def __init__(
        self, bpm: Sequence[float], *, step_s: float = 1.0, window_s: float = 1.0, start_s: float = 0.0
    ) -> None: ...
    window_s: float
    step_s: float
    duration_s: float
    warnings: Warnings
    def to_pandas(self) -> Any: ...
    def to_json(self) -> str: ...
    def __len__(self) -> int: ...

def read_rates(path: Path, *, column: str = "") -> RateSeries: ...
def rate(
    beats: BeatTrain,
    intervals: Intervals,
    track: Optional[RateTrack] = None,
    *,
    window_s: float = 8.0,
    step_s: float = 2.0,
    least_confidence: float = 0.5,
) -> RateSeries: ...

class BreathingSeries:
    warnings: Warnings
    def to_pandas(self) -> Any: ...
    def to_json(self) -> str: ...
    def __len__(self) -> int: ...

def breathing_rate(
    beats: BeatTrain, channels: Sequence[Channel] = [], *, window_s: float = 32.0, step_s: float = 4.0
) -> BreathingSeries: ...

class Variability:
    nn_count: int
    difference_count: int
    mean_nn_ms: Optional[float]
    sdnn_ms: Optional[float]
    rmssd_ms: Optional[float]
    sdsd_ms: Optional[float]
    nn50_count: Optional[int]
    pnn50_percent: Optional[float]
    mean_hr_bpm: Optional[float]
    min_nn_ms: Optional[float]
    max_nn_ms: Optional[float]
    flagged_percent: Optional[float]
    nn20_count: Optional[int]
    pnn20_percent: Optional[float]
    cv_percent: Optional[float]
    sd_hr_bpm: Optional[float]
    lowest_hr_bpm: Optional[float]
    highest_hr_bpm: Optional[float]
    sdann_ms: Optional[float]
    sdnn_index_ms: Optional[float]
    triangular_index: Optional[float]
    tinn_ms: Optional[float]
    ulf_power_ms2: Optional[float]
    vlf_power_ms2: Optional[float]
    lf_power_ms2: Optional[float]
    hf_power_ms2: Optional[float]
    total_power_ms2: Optional[float]
    lf_hf_ratio: Optional[float]
    lf_nu_percent: Optional[float]
    hf_nu_percent: Optional[float]
    sd1_ms: Optional[float]
    sd2_ms: Optional[float]
    sd1_sd2_ratio: Optional[float]
    ellipse_area_ms2: Optional[float]
    sample_entropy: Optional[float]
    approximate_entropy: Optional[float]
    multiscale_entropy: list[Optional[float]]
    alpha1: Optional[float]
    alpha2: Optional[float]
    reasons: dict[str, str]
    warnings: Warnings
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...

def variability(
    intervals: Intervals,
    *,
    spectrum: str = "welch",
    breathing: float | str | None = None,
    trend_lambda: Optional[float] = None,
) -> Variability: ...
def sliding_variability(
    intervals: Intervals,
    *,
    window_s: float = 300.0,
    step_s: float = 60.0,
    spectrum: str = "welch",
    breathing: float | str | None = None,
    trend_lambda: Optional[float] = None,
) -> list[tuple[tuple[float, float], Variability]]: ...

class Person:
    def __init__(
        self,
        code: str = "",
        *,
        age_years: Optional[float] = None,
        sex: str = "unstated",
        resting_bpm: Optional[float] = None,
        maximum_bpm: Optional[float] = None,
        ceiling_bpm: Optional[float] = None,
    ) -> None: ...
    code: str
    age_years: Optional[float]
    resting_bpm: Optional[float]
    maximum_bpm: Optional[float]
    ceiling_bpm: Optional[float]

class TargetZone:
    low_bpm: float
    high_bpm: float
    from_reserve: bool
    maximum_bpm: float
    maximum_sd_bpm: Optional[float]
    maximum_source: str

class Effort:
    person: Person
    target: Optional[TargetZone]
    duration_s: float
    unmeasured_s: float
    category_s: Optional[dict[str, float]]
    below_target_s: Optional[float]
    in_target_s: Optional[float]
    above_target_s: Optional[float]
    mean_hr_bpm: Optional[float]
    peak_hr_bpm: Optional[float]
    mean_reserve_percent: Optional[float]
    warnings: Warnings
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...

def target(
    person: Person, *, equation: str = "fox", low_percent: float = 60.0, high_percent: float = 85.0
) -> Optional[TargetZone]: ...
def effort(
    rates: RateSeries,
    person: Person,
    *,
    equation: str = "fox",
    low_percent: float = 60.0,
    high_percent: float = 85.0,
) -> Effort: ...

class Ranged:
    value: float
    low: float
    high: float
    def __float__(self) -> float: ...

class SessionEffort:
    effort: Effort
    mean_reserve_percent: Optional[Ranged]
    in_target_s: Optional[Ranged]
    moderate_or_harder_s: Optional[Ranged]
    weighted_minutes: Optional[Ranged]
    impulse_men: Optional[Ranged]
    impulse_women: Optional[Ranged]
    first_minute_fall_bpm: Optional[float]
    prompts: Warnings
    reasons: dict[str, str]
    def phases_to_pandas(self) -> Any: ...
    def course_to_pandas(self) -> Any: ...
    def to_text(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...

def study_session(
    rates: RateSeries,
    person: Person,
    *,
    exertion: Optional[int] = None,
    activity: str = "",
    peak_window_s: float = 30.0,
) -> SessionEffort: ...

class BeatAgreement:
    true_positives: int
    false_negatives: int
    false_positives: int
    sensitivity_percent: Optional[float]
    positive_predictivity_percent: Optional[float]
    f1_percent: Optional[float]
    error_rate_percent: Optional[float]
    bias_ms: Optional[float]
    sd_ms: Optional[float]
    error_ms: npt.NDArray[np.float64]
    missed_s: npt.NDArray[np.float64]
    extra_s: npt.NDArray[np.float64]

def match_beats(
    reference: BeatTrain,
    test: BeatTrain,
    *,
    tolerance_s: float = 0.15,
    skip_s: float = 0.0,
    exclude: Spans = [],
) -> BeatAgreement: ...
def pool_beats(records: Sequence[BeatAgreement], name: str = "gross") -> BeatAgreement: ...

class Estimate:
    value: float
    low: Optional[float]
    high: Optional[float]
    def __float__(self) -> float: ...

class LimitsOfAgreement:
    bias: Estimate
    sd: float
    lower: Estimate
    upper: Estimate

class Equivalence:
    margin: float
    bias: Estimate
    p: float
    equivalent: bool

class PairedAgreement:
    pairs: int
    people: int
    plain_limits: Optional[LimitsOfAgreement]
    repeated_limits: Optional[LimitsOfAgreement]
    bias: Optional[Estimate]
    mean_absolute_error: Optional[Estimate]
    mean_absolute_percentage_error: Optional[Estimate]
    root_mean_square_error: Optional[Estimate]
    within_5_percent: Optional[Estimate]
    within_10_percent: Optional[Estimate]
    correlation: Optional[Estimate]
    concordance: Optional[Estimate]
    trend_slope: Optional[Estimate]
    equivalence: Optional[Equivalence]
    reasons: dict[str, str]

def paired_agreement(
    reference: npt.ArrayLike,
    test: npt.ArrayLike,
    *,
    person: Optional[Sequence[str]] = None,
    margin: float = 5.0,
    seed: int = 1,
    resamples: int = 2000,
) -> PairedAgreement: ...
def limits_of_agreement(differences: Sequence[float]) -> Optional[LimitsOfAgreement]: ...
def plan_limits(sd: float, half_width: float) -> int: ...

class ComparedRecord:
    name: str
    reached: str
    left_out: str
    offset_s: float
    drift_ppm: float
    bias_bpm: Optional[float]
    mean_absolute_error_bpm: Optional[float]

class RateStudy:
    overall: PairedAgreement
    before: PairedAgreement
    flow: dict[str, int]
    verdicts: Any
    checklist: Any
    warnings: Warnings
    def groups(self, by: str = "condition") -> dict[str, PairedAgreement]: ...
    def to_pandas(self) -> Any: ...
    def to_text(self) -> str: ...
    def figures(self) -> dict[str, str]: ...
    def to_dict(self) -> dict[str, Any]: ...

def compare_rates(
    reference: RateSeries | BeatTrain,
    test: RateSeries | BeatTrain,
    *,
    name: str = "",
    person: str = "",
    condition: str = "",
    device: str = "",
    skin_tone: str = "",
    sex: str = "",
    bmi: Optional[float] = None,
    align: str = "drift",
    any_offset: bool = False,
    one_clock: bool = False,
    by_clocks_s: Optional[float] = None,
) -> ComparedRecord: ...
def rate_study(records: Sequence[ComparedRecord]) -> RateStudy: ...

class Simulation:
    recording: Recording
    beats: BeatTrain
    artefacts: Spans
    def course_to_pandas(self) -> Any: ...

def scenarios() -> list[tuple[str, str]]: ...
def simulate(
    scenario: str,
    person: str = "wren",
    *,
    duration_s: Optional[float] = None,
    seed: Optional[int] = None,
    sensors: Sequence[str] = [],
) -> Simulation: ...

class Analysis:
    beats: BeatTrain
    track: Optional[RateTrack]
    intervals: Intervals
    rates: RateSeries
    variability: Variability
    effort: Effort
    def to_json(self) -> str: ...
    def to_dict(self) -> dict[str, Any]: ...
    def to_text(self) -> str: ...

def analyze(
    recording: Recording,
    person: Person = ...,
    *,
    channels: Sequence[str] = [],
    streaming: bool = False,
    options: str = "{}"
) -> Analysis: ...
def analyze_beats(beats: BeatTrain, person: Person = ...) -> Analysis: ...
def session_report(recording: Recording, analysis: Analysis, *, language: str = "en") -> str: ...
def work_on(path: str, file: str, options: str = "{}") -> str: ...
