using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>What a finish looks like, for customers; keys of the Counter's texts. Its name is the one of <see cref="FinishWords"/> everywhere.</summary>
public static class FinishTexts
{
    public static string Note(Finish finish) =>
        finish switch
        {
            Finish.ShowThrough => "The material gleams through the colours. There is no white: white parts show the material.",
            Finish.WhiteGround => "Colours as on paper, white is white. The material is hidden.",
            Finish.VelvetMatt => "Soft to the eye, without gloss. White parts show the material.",
            _ => "The picture lies behind the glass and is seen through it.",
        };

    /// <summary>What is told of a picture that cannot come out as wanted: keys of the Counter's texts, each with the share it is about, 0 to 1.</summary>
    public static IEnumerable<(string Key, double Share)> Lost(Finish finish, ReachOfPicture reach)
    {
        if (reach.GroundShare >= LeastShare && OfGround(finish) is { } ground)
            yield return (ground, reach.GroundShare);
        if (reach.LightenedShare >= LeastShare)
            yield return ("About {0} of your picture, its darkest parts, looks a little lighter.", reach.LightenedShare);
    }

    // What is no whole percent is not worth a sentence.
    private const double LeastShare = 0.005;

    // A white ground is the white of paper: nothing of the material is seen, and nothing has to be told.
    private static string? OfGround(Finish finish) =>
        finish switch
        {
            Finish.ShowThrough or Finish.VelvetMatt => "About {0} of your picture turns to the colour of the material.",
            Finish.BehindGlass => "About {0} of your picture, its lightest parts, looks a little darker than on the screen.",
            _ => null,
        };
}
