/* special_tables.h -- coefficients of special.c.
 *
 * Written by scripts/elementary.sollya; change that, not this. Fit errors: scripts/elementary.log. */
static const double mills_m[] = {
    0x1.e361ea6fba141p-2,  -0x1.8c18f2086e34cp-4,  0x1.cabd72a60fda8p-7,   0x1.d4969f10e038ap-6,
    -0x1.07c3c2582f1f5p-5, 0x1.25dd7205f98b9p-6,   -0x1.47d5fc728d9c7p-8,  -0x1.2b7f5de64c307p-12,
    0x1.6c5382760b304p-11, -0x1.8c11b4ba968b6p-14, -0x1.707b97dcb521ep-14, 0x1.648426d8a3448p-16,
    0x1.c93c914897cc6p-17, -0x1.cca75b7e0348p-19,  -0x1.5ea549fcb5cf6p-19, 0x1.b23e69efba68fp-22,
    0x1.2801b97db11a8p-21, 0x1.8be4276b6f664p-30,  -0x1.d9e55fd87bfdcp-24, -0x1.5385b58cd897ep-26,
    0x1.286bfd629093cp-26, 0x1.a2e7b3550eb9fp-28,  -0x1.8ba6e99a0b29cp-30, -0x1.9561449f516f3p-31,
};
static const double quantile_central_center = 0x1.9p1;
static const double quantile_central[] = {
    0x1.2b57ec65a8009p1,    0x1.5bc94440cc7ecp-2,   -0x1.179b2574060cbp-7,  -0x1.12994fbb84299p-10,
    0x1.14e8fc42a1299p-12,  -0x1.49627602c03eep-16, -0x1.032ee3ba720ebp-19, 0x1.4186be8c34437p-21,
    -0x1.6125a5d8b9a27p-25, -0x1.8faf5546388a4p-28, 0x1.98a57af79a002p-30,  -0x1.50c1aff54493dp-34,
    -0x1.42da7457f1ed4p-36, 0x1.05c6bd9d338b9p-38,  -0x1.028853bd2f0d2p-43, -0x1.fdae8a4c93954p-45,
    0x1.501a572b2af16p-47,  -0x1.06b76f40aecacp-54, -0x1.a879e14feca93p-53, 0x1.964c14c7e5669p-56,
    0x1.e00593a36d4b8p-60,  -0x1.242603ecc64dfp-61, -0x1.dbeccf1c596c1p-70, 0x1.5a490b7731a15p-68,
};
static const double quantile_outer_center = 0x1.1p2;
static const double quantile_outer[] = {
    0x1.7262c28764dd3p2,    0x1.6da6ba64ebe21p0,    0x1.07e0ad9ca44a9p-10,  -0x1.c0e08dd4db8f9p-11,
    0x1.33bfb0b6bf205p-12,  -0x1.56bc3184177ep-14,  0x1.56db866f8c14ep-16,  -0x1.37c498bbe77d5p-18,
    0x1.dddfd0bd1b098p-21,  -0x1.6fb07b5161761p-24, -0x1.6d359c58256ffp-25, 0x1.38dfb49cfb959p-25,
    -0x1.268900be5c2adp-26, 0x1.7e854a05ed346p-28,  -0x1.09f284ca63031p-30, -0x1.129efac1dcd22p-33,
    0x1.43604f16f1c6p-33,   -0x1.426cf2b557278p-34, 0x1.0eb8df33dd37fp-35,  -0x1.64f35f0bd944dp-39,
    -0x1.2f4824f9769aap-38, 0x1.6764d3fc1565fp-40,  0x1.36e9c16e110a5p-43,  -0x1.2c8b876377864p-44,
};
static const double quantile_far_center = 0x1.9fce59fce59fdp-4;
static const double quantile_far[] = {
    0x1.65fc39f39b889p0,   -0x1.ecc417dddadeap-3, -0x1.efe0a999768dcp-2, 0x1.23f7c6aa96047p1,
    -0x1.718564d6521bbp2,  0x1.60192a8077e64p4,   -0x1.bb02993f38c6dp6,  0x1.396d50254011p9,
    -0x1.e219cf83b8889p11, 0x1.8b83662c4c497p14,  -0x1.55708ffe93a66p17, 0x1.31cf6036b3254p20,
    -0x1.11b3ef0b8a502p23, 0x1.01e9673c03592p26,  -0x1.44e356944a542p29, 0x1.482815bba0e44p32,
    0x1.b9caa75727502p33,  -0x1.23836077684afp37, -0x1.802a6f079e676p43, 0x1.a43f45969f1adp46,
    0x1.25e2998d58e81p50,  -0x1.4661a9feeba06p53, -0x1.747bf4cf74d7p56,  0x1.993f0746bdda9p59,
};
