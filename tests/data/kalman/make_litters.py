# Generates litters.txt with statsmodels: 20 litters, irregular times, missing readings, a change of scale, and a last pup
# that begins some rounds after the others.
import numpy as np
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother

rng = np.random.default_rng(20260301)


def move(r, q, d):
    if r == 0:
        return 1.0, d, np.array([[q * d**3 / 3, q * d * d / 2], [q * d * d / 2, q * d]])
    k = np.exp(-r * d)
    b = (1 - k) / r
    left = (1 - k * k) / (2 * r)
    return k, b, q * np.array([[(d - 2 * b + left) / r**2, b * b / 2], [b * b / 2, left]])


out = open("litters.txt", "w")
for case in range(20):
    n = 1 + case % 4
    rounds = int(rng.integers(15, 40))
    own = [rng.choice([0.0, 0.2, 0.7]), rng.uniform(1e-5, 5e-4), rng.uniform(1e-4, 9e-4)]
    lit = [rng.choice([0.0, 0.1]), rng.uniform(1e-6, 1e-4), rng.uniform(1e-4, 6e-4)]
    size = 2 * n + 2
    days = rng.uniform(0.1, 2.5, rounds)
    y = np.full((n, rounds), np.nan)
    noise = np.empty((n, rounds))
    expected = rng.uniform(0, 0.08, (n, rounds)) * days
    level = rng.uniform(1e-6, 2e-4, (n, rounds)) * days
    common = rng.uniform(1e-6, 1e-4, rounds)
    ks = KalmanSmoother(k_endog=n, k_states=size, k_posdef=size)
    T = np.zeros((size, size, rounds))
    Q = np.zeros((size, size, rounds))
    c = np.zeros((size, rounds))
    Z = np.zeros((n, size))
    for i in range(n):
        Z[i, i] = Z[i, 2 * n + 1] = 1
    # Matrices of the step that leads to round t.
    for t in range(rounds):
        ko, bo, qo = move(own[0], own[1], days[t])
        kl, bl, ql = move(lit[0], lit[1], days[t])
        for i in range(n):
            T[i, i, t] = 1
            T[i, n + i, t] = bo
            T[i, 2 * n, t] = bl
            T[n + i, n + i, t] = ko
            Q[i, i, t] += qo[0, 0] + level[i, t]
            Q[i, n + i, t] += qo[0, 1]
            Q[n + i, i, t] += qo[0, 1]
            Q[n + i, n + i, t] += qo[1, 1]
            Q[i, 2 * n, t] += ql[0, 1]
            Q[2 * n, i, t] += ql[0, 1]
            for j in range(n):
                Q[i, j, t] += ql[0, 0]
            c[i, t] = expected[i, t]
        T[2 * n, 2 * n, t] = kl
        Q[2 * n, 2 * n, t] += ql[1, 1]
        Q[2 * n + 1, 2 * n + 1, t] = common[t]
    # The last pup begins anew at that round: nothing of before leads to it.
    begun = 0 if n == 1 else case % 6
    if begun:
        i = n - 1
        for row in (i, n + i):
            T[row, :, begun] = Q[row, :, begun] = Q[:, row, begun] = 0
            c[row, begun] = 0
        c[i, begun] = 6
        Q[i, i, begun], Q[n + i, n + i, begun] = 0.1, own[2]
    a = np.zeros(size)
    a[:n] = 6.0
    P = np.diag([0.1] * n + [own[2]] * n + [lit[2], 0.0])
    x = rng.multivariate_normal(a, P)
    for t in range(rounds):
        x = T[:, :, t] @ x + c[:, t] + rng.multivariate_normal(np.zeros(size), Q[:, :, t])
        noise[:, t] = (2e-4 if t < rounds / 2 else 2e-3) * rng.uniform(0.5, 1.5, n)  # the scale changes half way
        y[:, t] = Z @ x + rng.normal(0, np.sqrt(noise[:, t]))
        y[rng.uniform(size=n) < 0.25, t] = np.nan
        if t < begun:
            y[n - 1, t] = np.nan
    a1 = T[:, :, 0] @ a + c[:, 0]
    P1 = T[:, :, 0] @ P @ T[:, :, 0].T + Q[:, :, 0]
    ks.bind(np.ascontiguousarray(y.T))
    ks["design"] = Z
    ks["obs_cov"] = np.stack([np.diag(noise[:, t]) for t in range(rounds)], axis=2)
    ks["selection"] = np.eye(size)
    # statsmodels keeps at t the step that leads from t to t + 1.
    ks["transition"] = np.concatenate([T[:, :, 1:], T[:, :, :1]], axis=2)
    ks["state_cov"] = np.concatenate([Q[:, :, 1:], Q[:, :, :1]], axis=2)
    ks["state_intercept"] = np.concatenate([c[:, 1:], c[:, :1]], axis=1)
    ks.initialize_known(a1, P1)
    ks.loglikelihood_burn = 0
    ks.tolerance = 0
    res = ks.smooth()
    g = lambda v: "%.12g" % v
    print("litter", n, rounds, begun, *map(g, own + lit), g(res.llf_obs.sum()), file=out)
    for t in range(rounds):
        print(g(days[t]), g(common[t]), file=out)
        for i in range(n):
            f = res.filtered_state[:, t]
            print("nan" if np.isnan(y[i, t]) else g(y[i, t]), g(noise[i, t]), g(expected[i, t]), g(level[i, t]),
                  g(f[i]), g(f[n + i] + f[2 * n]), g(res.filtered_state_cov[i, i, t]),
                  g(res.smoothed_state[i, t]), g(res.smoothed_state_cov[i, i, t]), file=out)
