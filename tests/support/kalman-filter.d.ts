/** The part of the general Kalman library that checks and benches use; it brings no types. */
declare module 'kalman-filter' {
  export interface KalmanState {
    mean: number[][];
    covariance: number[][];
    index?: number;
  }
  export interface KalmanModel {
    dynamic: {
      dimension: number;
      transition: number[][] | ((options: { index: number; previousCorrected: KalmanState }) => number[][]);
      covariance: number[][] | ((options: { index: number; previousCorrected: KalmanState }) => number[][]);
      init: KalmanState;
    };
    observation: {
      dimension: number;
      stateProjection: number[][] | ((options: { index: number; predicted: KalmanState }) => number[][]);
      covariance: number[][] | ((options: { index: number; predicted: KalmanState }) => number[][]);
    };
  }
  export class KalmanFilter {
    constructor(model: KalmanModel);
    predict(options: { previousCorrected?: KalmanState | undefined }): KalmanState;
    correct(options: { predicted: KalmanState; observation: number[] }): KalmanState;
  }
}
