"""pulsewright: how hard is each heart truly working?

The stages of the pipeline, one function each, and `analyze` for all of them:

    read_recording   a file                  -> Recording
    condition        a channel               -> Signal
    find_beats       Recording               -> BeatTrain
    track_rate       Recording (pulse)       -> RateTrack
    clean            BeatTrain               -> Intervals
    rate             beats, intervals, track -> RateSeries
    variability      Intervals               -> Variability
    effort           RateSeries, Person      -> Effort
    study_session    RateSeries, Person      -> SessionEffort
    analyze          Recording, Person       -> Analysis
    compare_rates    a sensor, a reference   -> ComparedRecord, and rate_study puts them together

Times are seconds from the start of the recording, rates beats/min. Samples go in as numpy arrays; what comes out views the library's
own memory where the layout allows. `to_pandas()` makes a table, `to_json()` the document that the program writes. What was not measured
is NaN in a table and None elsewhere. Refusals are exceptions with the program's messages, all of them `pulsewright.Error`.

Not a medical device; nothing here diagnoses.
"""

from ._core import *  # noqa: F401,F403
from ._core import __version__

__all__ = [name for name in dir() if not name.startswith("_")]
