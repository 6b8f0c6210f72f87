using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Seasons;

/// <summary>What is said of an order for a season: at the Counter, on papers, on the customer's page and to other programs alike.</summary>
/// <param name="Season">The season.</param>
/// <param name="Word">What may be said.</param>
public sealed record SeasonSaid(Season Season, SeasonWord Word)
{
    /// <summary>The order is booked; else it would be booked on the day of which this is said.</summary>
    public bool IsBooked { get; init; }

    /// <summary>True when it is not in time.</summary>
    public bool IsLate => Word is SeasonWord.TooLate or SeasonWord.OverAndTooLate;

    /// <summary>Of each season that is near.</summary>
    /// <param name="settings">Where they are kept.</param>
    /// <param name="today">The shop's day, from which they are near.</param>
    /// <param name="asked">The day on which the order is or was asked for.</param>
    /// <param name="promised">The day it is promised for.</param>
    public static IReadOnlyList<SeasonSaid> Of(CurrentSettings settings, DateOnly today, DateOnly asked, DateOnly? promised) =>
        [.. SeasonSheet.Of(settings, today).Near.Select(s => new SeasonSaid(s, s.Say(asked, promised)))];

    /// <summary>The same of an order that is booked.</summary>
    public static IReadOnlyList<SeasonSaid> Booked(
        CurrentSettings settings,
        DateTimeOffset now,
        DateTimeOffset booked,
        DateTimeOffset promised
    ) => [.. Of(settings, settings.Day(now), settings.Day(booked), settings.Day(promised)).Select(s => s with { IsBooked = true })];

    /// <summary>The sentence.</summary>
    /// <param name="say">Says an English sentence with its parts in the reader's language.</param>
    /// <param name="day">Writes a day.</param>
    /// <param name="language">Two letters.</param>
    public string In(Func<string, string[], string> say, Func<DateOnly, string> day, string language)
    {
        var (name, last, by) = (Season.NameIn(language), day(Season.LastDay), day(Season.HandOverBy));
        return Word switch
        {
            SeasonWord.InTime when IsBooked => say(
                "The last day for orders for {0} is {1}. This one is promised in time for it.",
                [name, last]
            ),
            SeasonWord.Open => say("For {0} we take orders until {1}.", [name, last]),
            SeasonWord.InTime => say("For {0} we take orders until {1}. Ordered today, this one is ready in time.", [name, last]),
            SeasonWord.TooLate => say("This one is not ready for {0}: that would have to be by {1}.", [name, by]),
            SeasonWord.Over => say(
                "We took orders for {0} until {1}. We cannot promise any more that this one is in time for it.",
                [name, last]
            ),
            _ => say("We took orders for {0} until {1}. This one is ready only after {2}: not in time for it.", [name, last, by]),
        };
    }

    /// <summary>On a paper that is read later: also that an order after the last day is not promised for the season.</summary>
    public string OnPaper(Func<string, string[], string> say, Func<DateOnly, string> day, string language) =>
        Word == SeasonWord.InTime && !IsBooked
            ? $"{In(say, day, language)} {say("An order after that day is not promised for it.", [])}"
            : In(say, day, language);
}
