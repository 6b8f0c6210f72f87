using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Prices;

/// <summary>The numbers that prices are made of; names are those of the faults that the domain tells.</summary>
public static class PriceNumbers
{
    /// <summary>Rates.</summary>
    public static IReadOnlyList<NumberOf<RateCard>> Rates(RateCard card) =>
        [
            new(
                nameof(RateCard.LabourPerHour),
                "Work by hand",
                $"{card.Currency} an hour",
                r => r.LabourPerHour.Amount,
                (r, v) => r with { LabourPerHour = In(r, v) },
                IsMoney: true
            ),
            new(
                nameof(RateCard.EnergyPerKilowattHour),
                "Energy",
                $"{card.Currency} a kWh",
                r => r.EnergyPerKilowattHour.Amount,
                (r, v) => r with { EnergyPerKilowattHour = In(r, v) }
            ),
            new(nameof(RateCard.OverheadPercent), "Overhead", "%", r => r.OverheadPercent, (r, v) => r with { OverheadPercent = v!.Value }),
            .. card.Machines.Select((m, i) => Machine(card, m.Machine, i)),
        ];

    private static NumberOf<RateCard> Machine(RateCard card, string machine, int index) =>
        new(
            index == 0 ? nameof(RateCard.Machines) : $"{nameof(RateCard.Machines)}-{machine}",
            machine == "oven" ? "Oven, wear and room" : "Press, wear and room",
            $"{card.Currency} an hour",
            r => r.Machines.First(m => m.Machine == machine).PerHour.Amount,
            (r, v) => r with { Machines = [.. r.Machines.Select(m => m.Machine == machine ? m with { PerHour = In(r, v) } : m)] },
            IsMoney: true
        );

    /// <summary>The rule.</summary>
    public static IReadOnlyList<NumberOf<PriceRule>> Rule(string currency) =>
        [
            new(nameof(PriceRule.ProfitPercent), "Profit", "%", r => r.ProfitPercent, (r, v) => r with { ProfitPercent = v!.Value }),
            new(
                nameof(PriceRule.MinimumPerLine),
                "Smallest price of a line, before tax",
                currency,
                r => r.MinimumPerLine.Amount,
                (r, v) => r with { MinimumPerLine = r.MinimumPerLine with { Amount = v!.Value } },
                IsMoney: true
            ),
            new(nameof(PriceRule.RushPercent), "Added for rush work", "%", r => r.RushPercent, (r, v) => r with { RushPercent = v!.Value }),
            new(
                nameof(PriceRule.DepositPercent),
                "Deposit on booking",
                "%",
                r => r.DepositPercent,
                (r, v) => r with { DepositPercent = v!.Value }
            ),
            new(
                nameof(PriceRule.RoundUnitPriceTo),
                "Shown price is a multiple of",
                currency,
                r => r.RoundUnitPriceTo,
                (r, v) => r with { RoundUnitPriceTo = v!.Value }
            ),
        ];

    /// <summary>The other inputs.</summary>
    public static IReadOnlyList<NumberOf<PriceInputs>> Inputs(string currency) =>
        [
            new(
                nameof(PriceInputs.TransferPerSquareCentimetre),
                "Paper and ink",
                $"{currency} a cm²",
                p => p.TransferPerSquareCentimetre,
                (p, v) => p with { TransferPerSquareCentimetre = v!.Value }
            ),
            new(
                nameof(PriceInputs.ConsumablesPerPiece),
                "Tape, sheets and wipes",
                $"{currency} a piece",
                p => p.ConsumablesPerPiece,
                (p, v) => p with { ConsumablesPerPiece = v!.Value }
            ),
            new(
                nameof(PriceInputs.SecondsPerLine),
                "Picture and set-up, a line",
                "s",
                p => p.SecondsPerLine,
                (p, v) => p with { SecondsPerLine = decimal.ToInt32(v!.Value) },
                IsCount: true
            ),
            new(
                nameof(PriceInputs.UsualOvenFill),
                "Usual filling of the oven, 0 to 1",
                "",
                p => p.UsualOvenFill,
                (p, v) => p with { UsualOvenFill = v!.Value }
            ),
            new(
                nameof(PriceInputs.UsualPlatenFill),
                "Usual filling of the platen, 0 to 1",
                "",
                p => p.UsualPlatenFill,
                (p, v) => p with { UsualPlatenFill = v!.Value }
            ),
            new(
                nameof(PriceInputs.HeaterDutyPercent),
                "Heater draws its power",
                "% of the time",
                p => p.HeaterDutyPercent,
                (p, v) => p with { HeaterDutyPercent = v!.Value }
            ),
            new(nameof(PriceInputs.UsualLoss), "Usual loss, 0 to 0.9", "", p => p.UsualLoss, (p, v) => p with { UsualLoss = v!.Value }),
            new(
                nameof(PriceInputs.MostLiability),
                "Most paid for a spoiled own piece",
                currency,
                p => p.MostLiability,
                (p, v) => p with { MostLiability = v!.Value },
                IsMoney: true
            ),
        ];

    private static Money In(RateCard card, decimal? amount) => new(amount!.Value, card.Currency);
}
